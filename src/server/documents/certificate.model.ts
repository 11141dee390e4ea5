import type { Certificate, CertifiedInspection, CertifiedResult } from './certificate.types.js';
import type { Block, Sheet } from './sheet.model.js';
import { writtenCount, writtenDate, writtenHash, writtenInstant } from '../../../shared/written.js';

/** A certificate of analysis, as a sheet. Pure: the same certificate gives the same sheet. */
export function certificateSheet(certificate: Certificate): Sheet {
  const { lot, item, plantName, asKnownAt } = certificate;
  return {
    title: `Certificate of analysis ${lot}: ${item.name}`,
    reference: lot,
    proof:
      `As known at ledger entry ${writtenCount(asKnownAt.seq)}, ${writtenInstant(asKnownAt.at)}, ` +
      `chain hash ${writtenHash(asKnownAt.hash, 16)}`,
    pageStamp: null,
    madeAt: asKnownAt.at,
    author: plantName,
    blocks: [
      titleBlock(certificate),
      caution(),
      ...identification(certificate),
      ...certificate.inspections.flatMap(inspectionBlocks),
      ...release(certificate),
    ],
  };
}

function titleBlock({ lot, item, plantName, pieces, quantity, unit, madeOn, expiresOn }: Certificate): Block {
  return {
    kind: 'title',
    crumb: `Certificate of analysis · ${plantName}`,
    code: lot,
    title: item.name,
    stamps: [{ word: 'Released', look: 'released' }],
    numbers: [
      { label: pieces === null ? 'Quantity' : 'Pieces released', value: unit === 'each' ? quantity : `${quantity} ${unit}` },
      ...(madeOn === null ? [] : [{ label: 'Made', value: writtenDate(madeOn) }]),
      ...(expiresOn === null ? [] : [{ label: 'Expires', value: writtenDate(expiresOn) }]),
    ],
  };
}

const caution = (): Block => ({
  kind: 'caution',
  title: 'What this certificate states',
  lines: [
    'It states what was measured on the sample that was taken, by the methods and instruments named. Items outside the sample were not measured, ' +
      'and a sampling plan accepts some lots that hold nonconforming items.',
    'It was read from the ledger as it stood when the lot was released: ask for the state of the lot before relying on an old copy. The inspection, ' +
      'safety data and approvals that local law asks for are not replaced by it.',
  ],
});

function identification({ lot, item, pieces, origin }: Certificate): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Identification' },
    {
      kind: 'facts',
      facts: [
        { label: 'Lot', value: [{ text: lot, look: 'code' }] },
        { label: 'Item', value: `${item.code}, ${item.name}` },
        ...(item.gtin === null ? [] : [{ label: 'GTIN', value: [{ text: item.gtin, look: 'code' as const }] }]),
        ...(pieces === null ? [] : [{ label: 'Pieces', value: pieces }]),
        origin,
        ...(item.hazard === null ? [] : [{ label: 'Hazard', value: item.hazard }]),
      ],
    },
  ];
}

function inspectionBlocks(one: CertifiedInspection): Block[] {
  const when = `Decided ${writtenInstant(one.decidedAt)} by ${one.decidedBy}, by revision ${one.planRevision} of the plan`;
  return [
    { kind: 'heading', level: 2, text: `Inspection ${one.inspection}`, note: when },
    ...(one.results.length === 0 ? [] : [resultTable(one.results)]),
    ...(one.sample === null ? [] : [sampleText(one.sample), classTable(one)]),
  ];
}

const resultTable = (results: readonly CertifiedResult[]): Block => ({
  kind: 'table',
  summary: 'Measured characteristics with limits and results',
  columns: [
    { head: 'Characteristic', share: 30 },
    { head: 'Limits', share: 22 },
    { head: 'Result', share: 20, align: 'right' },
    { head: 'Method and instrument', share: 28 },
    { head: 'Measured', share: 22 },
  ],
  rows: results.map((one) => ({
    kind: 'row',
    cells: [
      one.name,
      one.limits,
      [
        { text: `${one.value} ${one.unit}`, look: one.within ? 'plain' : 'accent' },
        { text: one.items === null ? 'test of the lot' : `on ${writtenCount(one.items)} items`, look: 'quiet' },
        ...one.before.map((earlier) => ({ text: `after ${earlier.value}: ${earlier.reason}`, look: 'quiet' as const })),
      ],
      [
        { text: one.procedure ?? 'as the plan says' },
        ...(one.instrument === null ? [] : [{ text: one.instrument, look: 'code' as const }]),
      ],
      writtenInstant(one.measuredAt),
    ],
  })),
  empty: 'Nothing was measured.',
});

const sampleText = ({ edition, level, type, codeLetter, inspected, lotSize }: NonNullable<CertifiedInspection['sample']>): Block => ({
  kind: 'paragraph',
  text:
    `${writtenCount(inspected)} of ${writtenCount(lotSize)} items were inspected: ${edition}, level ${level}, ${type} sampling, ` +
    `code letter ${codeLetter}.`,
});

const classTable = ({ classes }: CertifiedInspection): Block => ({
  kind: 'table',
  summary: 'Nonconforming items found in the sample, by class',
  columns: [
    { head: 'Class', share: 25 },
    { head: 'AQL', share: 15, align: 'right' },
    { head: 'Accepted up to, not accepted from', share: 40 },
    { head: 'Found', share: 15, align: 'right' },
  ],
  rows: classes.map((one) => ({ kind: 'row', cells: [one.class, one.aql ?? 'none allowed', one.numbers, writtenCount(one.found)] })),
  empty: 'No class of nonconformity is judged by this plan.',
});

function release({ released, asKnownAt }: Certificate): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Released by' },
    {
      kind: 'table',
      summary: 'Who released the lot, when, and what the signature means',
      columns: [
        { head: 'Who', share: 28 },
        { head: 'When', share: 25 },
        { head: 'Meaning', share: 52 },
        { head: 'Entry', share: 12, align: 'right' },
      ],
      rows: released.map((one) => ({
        kind: 'row',
        cells: [
          one.name === null ? one.by : [{ text: one.name }, { text: one.by, look: 'quiet' }],
          writtenInstant(one.at),
          one.meaning,
          writtenCount(one.seq),
        ],
      })),
      empty: 'Nobody.',
    },
    {
      kind: 'facts',
      facts: [
        { label: 'Ledger entry', value: `${writtenCount(asKnownAt.seq)}, of ${writtenInstant(asKnownAt.at)}` },
        { label: 'Chain hash', value: [{ text: writtenHash(asKnownAt.hash), look: 'code' }] },
      ],
    },
  ];
}
