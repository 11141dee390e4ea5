import { partText, personText, signatureCells, signatureColumns } from './nonconformance.words.js';
import type { CarriedOut, Disposition, NonconformanceReport } from './nonconformance.types.js';
import type { Block, FactsBlock } from './sheet.model.js';
import { capital, writtenCount, writtenDate, writtenInstant } from '../../../shared/written.js';

/** What was decided of each part, by whose authority, what was done and how it was verified. */
export function decided({ dispositions }: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Dispositions' },
    ...(dispositions.length === 0
      ? [{ kind: 'paragraph' as const, text: 'None is proposed yet.' }]
      : dispositions.flatMap((one) => disposition(one))),
  ];
}

function disposition(one: Disposition): Block[] {
  return [
    {
      kind: 'heading',
      level: 3,
      text: `${one.disposition}. ${capital(one.kind)} of ${one.part.lot}, ${partText(one.part)}${one.withdrawn === null ? '' : ' (taken back)'}`,
    },
    { kind: 'facts', facts: [...terms(one), ...outcome(one)] },
    ...(one.signatures.length === 0 ? [] : [signatures(one)]),
  ];
}

type Facts = FactsBlock['facts'][number];

function terms(one: Disposition): Facts[] {
  const { concession } = one;
  return [
    { label: 'Why', value: one.reason },
    { label: 'Proposed by', value: `${personText(one.proposedBy)}, entry ${writtenCount(one.proposedSeq)}` },
    ...(one.adverseEffect === null ? [] : [{ label: 'Adverse effect', value: one.adverseEffect }]),
    ...(one.regradeTo === null ? [] : [{ label: 'Becomes item', value: one.regradeTo }]),
    ...(concession === null
      ? []
      : [
          { label: 'Authorised by', value: `${concession.authorisedBy} (${concession.authority}), ${concession.reference}` },
          { label: 'Until', value: writtenDate(concession.until) },
        ]),
    ...(one.withdrawn === null ? [] : [{ label: 'Taken back', value: one.withdrawn }]),
  ];
}

function outcome(one: Disposition): Facts[] {
  if (one.withdrawn !== null) return [];
  const waits: Facts[] =
    one.lacks.length === 0 ? [] : [{ label: 'Waits for', value: one.lacks.map((text) => ({ text, look: 'accent' as const })) }];
  if (one.carriedOut === null) return [...waits, { label: 'Carried out', value: 'not yet' }];
  return [
    ...waits,
    { label: 'Carried out', value: carriedOut(one.carriedOut) },
    ...(one.needsVerifying || one.verifiedBy !== null
      ? [{ label: 'Verified', value: one.verifiedBy === null ? 'not yet' : `by inspection ${one.verifiedBy}` }]
      : []),
  ];
}

function carriedOut({ by, at, seq, note, run, document, opens, becomes, sorted }: CarriedOut): { text: string }[] {
  const part = (what: CarriedOut['sorted'] & object, key: 'conforming' | 'nonconforming'): string => {
    const of = what[key];
    return of === null ? 'nothing' : partText(of);
  };
  return [
    { text: note },
    { text: `${personText(by)}, ${writtenInstant(at)}, entry ${writtenCount(seq)}` },
    ...(run === null ? [] : [{ text: `In run ${run}` }]),
    ...(document === null ? [] : [{ text: `Document: ${document}` }]),
    ...(opens === null ? [] : [{ text: `Inspection opened for it: ${opens}` }]),
    ...(becomes === null ? [] : [{ text: `Now lot ${becomes}` }]),
    ...(sorted === null ? [] : [{ text: `Conforms: ${part(sorted, 'conforming')}; does not: ${part(sorted, 'nonconforming')}` }]),
  ];
}

/** A signature on terms that have changed since shows as broken. */
function signatures({ disposition: number, signatures: signed }: Disposition): Block {
  return {
    kind: 'table',
    summary: `Who signed disposition ${number}, for which function, when, and what the signature means`,
    columns: [{ head: 'For', share: 19 }, ...signatureColumns],
    rows: signed.map((one) => ({
      kind: 'row',
      cells: [
        one.broken ? [{ text: one.as }, { text: 'Broken', stamp: { word: 'Broken', look: 'refused' } }] : one.as,
        ...signatureCells(one, one.broken),
      ],
    })),
    empty: '',
  };
}
