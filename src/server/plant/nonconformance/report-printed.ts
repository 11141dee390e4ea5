import { MICRO } from '../../../../shared/quantity.js';
import { countPieces } from '../../../../shared/spans.js';
import { inWords } from '../../../../shared/written.js';
import type * as printed from '../../documents/nonconformance.types.js';
import type { Signature } from '../people/signature.js';
import type { Evidence } from './disposition.facts.js';
import type { AffectedPart } from './nonconformance.facts.js';
import type { Disposition, Report, ReportEntry } from './report-state.facts.js';
import type { SignatureStanding } from './review-rule.decide.js';

/** What stands beside the entries of a report: names of people, items and defects. */
export interface Names {
  person(code: string): printed.Person;
  lot(code: string): { readonly item: string; readonly itemName: string | null; readonly unit: string };
}

export function printedPart(part: AffectedPart, names: Names): printed.Part {
  return {
    lot: part.lot,
    ...names.lot(part.lot),
    spans: part.spans,
    quantityMicro: part.spans === null ? (part.quantityMicro ?? 0) : countPieces(part.spans) * MICRO,
  };
}

const printedSignature = (signature: Signature, seq: number, names: Names): printed.Signed => ({
  by: names.person(signature.by),
  at: signature.at,
  meaning: signature.meaning,
  seq,
});

/** Entries that a report itself is signed by; those of dispositions stand with them. */
const SIGNED: Readonly<Record<string, string>> = {
  ReportContained: 'containment',
  ReportReviewed: 'review',
  ReportClosed: 'closing',
  ReportWithdrawn: 'withdrawal',
  ReportReopened: 'reopening',
};

export const reportSignatures = ({ entries }: Report, names: Names): printed.NonconformanceReport['signatures'] =>
  entries.flatMap(({ fact, seq }) => {
    const on = SIGNED[fact.kind];
    return on !== undefined && 'signature' in fact ? [{ on, signature: printedSignature(fact.signature, seq, names) }] : [];
  });

/** @param standing which of its signatures hold on what stands now, and which are lacking */
export function printedDisposition(one: Disposition, standing: SignatureStanding, names: Names): printed.Disposition {
  const { terms } = one;
  return {
    disposition: one.disposition,
    kind: inWords(terms.kind),
    part: printedPart(terms.part, names),
    reason: terms.reason,
    adverseEffect: terms.adverseEffect,
    regradeTo: terms.regradeTo,
    concession: terms.concession === null ? null : { ...terms.concession, authority: inWords(terms.concession.authority) },
    proposedBy: names.person(one.proposedBy),
    proposedSeq: one.proposedSeq,
    withdrawn: one.withdrawn,
    signatures: one.signatures.map((entry) => ({
      ...printedSignature(entry.fact.signature, entry.seq, names),
      as: inWords(entry.fact.as),
      broken: standing.broken.includes(entry),
    })),
    lacks: one.withdrawn === null ? standing.lacks : [],
    carriedOut: one.carriedOut === null ? null : carriedOut(one.carriedOut, names),
    verifiedBy: one.verifiedBy,
    needsVerifying: terms.kind === 'rework' || terms.kind === 'repair',
  };
}

type Done = ReportEntry & { readonly fact: NonNullable<Disposition['carriedOut']>['fact'] };

function carriedOut({ fact, seq, at, actor }: Done, names: Names): printed.CarriedOut {
  const { note, run, document }: Evidence = fact.evidence;
  const part = (of: AffectedPart | null): printed.Part | null => (of === null ? null : printedPart(of, names));
  return {
    by: names.person(actor),
    at,
    seq,
    note,
    run,
    document,
    opens: fact.opens,
    becomes: fact.becomes,
    sorted: fact.sorted === null ? null : { conforming: part(fact.sorted.conforming), nonconforming: part(fact.sorted.nonconforming) },
  };
}

/** Cause, actions, effectiveness and costs. */
export function printedLearning(
  { cause, actions, effectiveness, costs }: Report,
  names: Names,
): Pick<printed.NonconformanceReport, 'cause' | 'actions' | 'effectiveness' | 'costs'> {
  const checked = effectiveness?.checked ?? null;
  return {
    cause:
      cause === null
        ? null
        : {
            whys: cause.fact.whys,
            categories: cause.fact.categories,
            conclusion: cause.fact.conclusion,
            by: names.person(cause.actor),
            at: cause.at,
          },
    actions: actions.map(({ planned: { fact }, done }) => ({
      action: fact.action,
      kind: fact.actionKind,
      what: fact.what,
      owner: names.person(fact.owner),
      dueOn: fact.dueOn,
      done: done === null ? null : { at: done.at, evidence: done.fact.evidence },
    })),
    effectiveness:
      effectiveness === null
        ? null
        : {
            criterion: effectiveness.planned.fact.criterion,
            checkOn: effectiveness.planned.fact.checkOn,
            checked:
              checked === null
                ? null
                : {
                    effective: checked.fact.effective,
                    harm: checked.fact.harm,
                    evidence: checked.fact.evidence,
                    signature: printedSignature(checked.fact.signature, checked.seq, names),
                  },
          },
    costs: costs.map(({ fact }) => ({
      of: fact.disposition === null ? 'the report' : `disposition ${fact.disposition}`,
      kind: fact.costKind,
      minor: fact.minor,
      note: fact.note,
    })),
  };
}
