import type { EntityManager } from 'typeorm';
import { MICRO } from '../../../../shared/quantity.js';
import { intersectSpans, type SpanSet } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { knownFiles } from '../files/files.query.js';
import { lotInspections } from '../inspection/lot-inspections.query.js';
import { netOf } from '../production/run-state.facts.js';
import { chargesOf } from '../production/run-state.query.js';
import { nextDocument, nextLotCodes } from '../stock/codes.query.js';
import { heldAt, type LotState } from '../stock/lot-state.facts.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { CarryOut, CarryOutState } from './carry-out.decide.js';
import type { AffectedPart } from './nonconformance.facts.js';
import { holdsState } from './outcome.query.js';
import type { Disposition } from './report-state.facts.js';
import type { InspectAgain, Worked } from './rework.decide.js';
import type { DecisionState } from './settle.decide.js';

interface CarryOutNeeds {
  readonly lineage: Lineage;
  readonly lotPattern: string;
  readonly at: string;
}

/** What carrying out a disposition rests on. */
export async function carryOutState(
  tx: EntityManager,
  decision: DecisionState,
  one: Disposition,
  command: CarryOut,
  { lineage, lotPattern, at }: CarryOutNeeds,
): Promise<CarryOutState> {
  const { kind, part, regradeTo } = one.terms;
  const lot = (await lotStates(tx, lineage, [{ lot: part.lot, spans: part.spans }])).get(part.lot)!;
  const state = {
    ...decision,
    on: at.slice(0, 10),
    lot,
    outcome: await holdsState(tx, lineage, decision.report),
    knownFiles: await knownFiles(tx, command.evidence.files),
  };
  if (kind === 'regrade') {
    const items = await catalogueByCode(tx, 'item', [lot.item, regradeTo!]);
    const becomes = items.get(regradeTo!)!;
    const [code] = await nextLotCodes(tx, lotPattern, [becomes.class], at);
    return { ...state, regrade: { code: code!, item: items.get(lot.item)!, becomes, report: decision.report.report, at } };
  }
  if (kind !== 'rework' && kind !== 'repair') return state;
  const { run } = command.evidence;
  const worked = run === null ? undefined : await workedOn(tx, run, part);
  const reason = `${kind} by disposition ${one.disposition} of ${decision.report.report}${run === null ? '' : `, run ${run}`}`;
  const inspection = await nextDocument(tx, 'inspection', 'IN');
  const made =
    worked?.yields == null ? undefined : (await lotStates(tx, lineage, [{ lot: worked.yields, spans: null }])).get(worked.yields);
  return {
    ...state,
    worked,
    again: {
      inPlace: await inspectAgain(tx, lot, part.spans, { inspection, reason, openedBy: null }),
      asLot: made === undefined ? null : await inspectAgain(tx, made, heldAt(made, 'on-hand').spans, { inspection, reason, openedBy: run }),
    },
  };
}

async function inspectAgain(
  tx: EntityManager,
  lot: LotState,
  spans: SpanSet | null,
  { inspection, reason, openedBy }: { readonly inspection: string; readonly reason: string; readonly openedBy: string | null },
): Promise<InspectAgain> {
  const { lot: code, item, unit, supplier } = lot;
  const quantityMicro = heldAt(lot, 'on-hand').quantityMicro;
  return {
    part: { lot: code, item, unit, spans, quantityMicro, supplier, containers: null },
    plan: (await catalogueByCode(tx, 'inspection-plan', [item])).get(item),
    inspections: await lotInspections(tx, code),
    openedByRun: openedBy === null ? null : await openedByRun(tx, code, openedBy),
    inspection,
    reason,
  };
}

/** The inspection that a run opened for the lot it yielded. */
async function openedByRun(tx: EntityManager, lot: string, run: string): Promise<string | null> {
  const [row] = await queryRows<{ code: string }>(
    tx,
    `SELECT "code" FROM "inspection" WHERE "lot" = ? AND "source" = ? AND "occasion" = 'run' AND "state" <> 'called-off' ORDER BY "opened_seq"`,
    [lot, run],
  );
  return row?.code ?? null;
}

/** A run, as far as it worked on the lot of a part; undefined if there is none of that number. */
async function workedOn(tx: EntityManager, run: string, { lot }: AffectedPart): Promise<Worked | undefined> {
  const [row] = await queryRows<{ kind: string; closed_seq: number | null; lot: string | null }>(
    tx,
    'SELECT "kind", "closed_seq", "lot" FROM "run" WHERE "code" = ?',
    [run],
  );
  if (!row) return undefined;
  const charges = (await chargesOf(tx, run)).filter((charge) => charge.lot === lot);
  return {
    run,
    kind: row.kind,
    closedSeq: row.closed_seq,
    yields: row.lot,
    charged: charges.map((charge) => {
      const { spans, quantityMicro } = netOf(charge);
      return { seq: charge.seq, spans, quantityMicro };
    }),
    replaced: (
      await queryRows<{ seq: number; unit_piece: number }>(
        tx,
        'SELECT "seq", "unit_piece" FROM "part_replaced" WHERE "run" = ? AND "unit_lot" = ? ORDER BY "seq"',
        [run, lot],
      )
    ).map((one) => ({ seq: one.seq, piece: one.unit_piece })),
    claimedMicro: await claimed(tx, run, lot),
  };
}

/** What dispositions that were carried out in the run claim of a bulk lot charged to it. */
async function claimed(tx: EntityManager, run: string, lot: string): Promise<number> {
  const rows = await queryRows<{ body: string }>(
    tx,
    `SELECT e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'run' AND s."code" = ? AND e."kind" = 'DispositionCarriedOut' ORDER BY e."seq"`,
    [run],
  );
  let micro = 0;
  for (const { body } of rows) {
    const fact = JSON.parse(body) as {
      readonly report: string;
      readonly disposition: number;
      readonly evidence: { readonly run: string | null };
    };
    if (fact.evidence.run !== run) continue;
    const [row] = await queryRows<{ quantity: unknown }>(
      tx,
      'SELECT "quantity" FROM "disposition" WHERE "report" = ? AND "disposition" = ? AND "lot" = ? AND "quantity" IS NOT NULL',
      [fact.report, fact.disposition, lot],
    );
    if (row) micro += safeInteger(row.quantity);
  }
  return micro;
}

/** How much of a part went into rework runs since its disposition was signed, in millionths, and did not come back. */
export async function takenForRework(tx: EntityManager, lineage: Lineage, report: string, one: Disposition): Promise<number> {
  const { part, kind } = one.terms;
  const signedSeq = one.signatures.filter((signature) => signature.fact.complete).at(-1)?.seq;
  if ((kind !== 'rework' && kind !== 'repair') || signedSeq === undefined) return 0;
  if (part.spans === null) {
    const lot = (await lotStates(tx, lineage, [{ lot: part.lot, spans: null }])).get(part.lot)!;
    return lot.grants.find((grant) => grant.report === report && grant.disposition === one.disposition)?.usedMicro ?? 0;
  }
  const runs = await queryRows<{ run: string }>(
    tx,
    `SELECT DISTINCT c."run" FROM "run_charge" c JOIN "run" r ON r."code" = c."run"
     WHERE c."lot" = ? AND c."seq" > ? AND r."kind" = 'rework' ORDER BY c."run"`,
    [part.lot, signedSeq],
  );
  let micro = 0;
  for (const { run } of runs) {
    const worked = (await workedOn(tx, run, part))!;
    for (const { spans } of worked.charged.filter((charge) => charge.seq > signedSeq)) {
      for (const [first, last] of intersectSpans(spans ?? [], part.spans)) micro += (last - first + 1) * MICRO;
    }
  }
  return micro;
}
