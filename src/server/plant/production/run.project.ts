import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import { formatSpans, parseSpans, unionSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, queryRows, type Value } from '../../platform/database/rows.js';
import type {
  Changeover,
  ChangeoverRecorded,
  Charge,
  ChargeReturn,
  Into,
  LinksCorrected,
  RunCharged,
  RunClosed,
  RunCorrected,
  RunStarted,
  RunUncharged,
  YieldInvestigated,
} from './run.facts.js';
import { leaveVessels, stay } from './vessel.project.js';

const json = (value: unknown): string | null => (value === null ? null : canonicalJson(value));

const START = ['code', 'kind', 'item', 'item_revision', 'recipe', 'recipe_revision', 'bom', 'bom_revision', 'vessel', 'line', 'people'];
const START_MORE = ['started_at', 'started_seq', 'planned', 'clearance', 'label', 'note'];
const CHARGE = ['run', 'charge', 'step', 'lot', 'item', 'spans', 'quantity', 'mass', 'charged_at', 'by', 'heel', 'into', 'deviations'];
const CHARGE_MORE = [
  'deviation_reason',
  'urgent_releases',
  'conversion',
  'taken_from',
  'returned_spans',
  'returned',
  'returned_mass',
  'seq',
];

export const projectRuns = {
  async RunStarted(tx: EntityManager, { seq, fact }: Recorded<RunStarted>): Promise<void> {
    const what: Value[] = [
      fact.run,
      fact.runKind,
      fact.item,
      fact.itemRevision,
      fact.recipe,
      fact.recipeRevision,
      fact.bom,
      fact.bomRevision,
    ];
    const where: Value[] = [fact.vessel, fact.line, canonicalJson(fact.people), fact.startedAt, seq, fact.plannedMicro];
    await insertRows(
      tx,
      'run',
      [...START, ...START_MORE],
      [[...what, ...where, json(fact.clearance), json(fact.label), fact.note ?? null]],
    );
    if (fact.vessel !== null) await stay(tx, seq, fact.run, fact.vessel, fact.residues);
  },

  async RunCharged(tx: EntityManager, { seq, fact }: Recorded<RunCharged>): Promise<void> {
    await insertCharges(tx, seq, fact.run, fact.charges);
    await insertChangeovers(tx, seq, fact.run, fact.changeovers);
  },

  async RunUncharged(tx: EntityManager, { fact }: Recorded<RunUncharged>): Promise<void> {
    await takeBack(tx, fact.run, fact.returns);
  },

  async ChangeoverRecorded(tx: EntityManager, { seq, fact }: Recorded<ChangeoverRecorded>): Promise<void> {
    await insertChangeovers(tx, seq, fact.run, fact.changeovers);
  },

  async RunClosed(tx: EntityManager, { seq, fact }: Recorded<RunClosed>): Promise<void> {
    const result = {
      rejected: formatSpans(fact.rejected),
      rejectReason: fact.rejectReason,
      netWeights: fact.netWeights,
      figures: fact.figures,
      deviations: fact.deviations,
      deviationReason: fact.deviationReason,
      unsure: fact.unsure,
      note: fact.note ?? null,
    };
    await queryRows(tx, 'UPDATE "run" SET "finished_at" = ?, "closed_seq" = ?, "lot" = ?, "result" = ? WHERE "code" = ?', [
      fact.finishedAt,
      seq,
      fact.yields,
      canonicalJson(result),
      fact.run,
    ]);
    await insertChangeovers(tx, seq, fact.run, fact.changeovers);
    for (const { charge, into } of fact.fitted) await addInto(tx, fact.run, charge, into);
    await insertRows(
      tx,
      'run_investigation',
      ['run', 'what', 'detail', 'opened_seq'],
      fact.investigations.map(({ what, detail }) => [fact.run, what, detail, seq]),
    );
    await leaveVessels(tx, seq, fact);
  },

  async YieldInvestigated(tx: EntityManager, { seq, actor, fact }: Recorded<YieldInvestigated>): Promise<void> {
    await queryRows(
      tx,
      'UPDATE "run_investigation" SET "explanation" = ?, "explained_by" = ?, "explained_seq" = ? WHERE "run" = ? AND "what" = ?',
      [fact.explanation, actor, seq, fact.run, fact.what],
    );
  },

  async RunCorrected(tx: EntityManager, entry: Recorded<RunCorrected>): Promise<void> {
    const { seq, fact } = entry;
    await takeBack(tx, fact.run, fact.returns);
    await insertCharges(tx, seq, fact.run, fact.charges);
    if (fact.changeovers !== null) {
      await queryRows(tx, 'UPDATE "run_changeover" SET "until_seq" = ? WHERE "run" = ? AND "until_seq" IS NULL', [seq, fact.run]);
      await insertChangeovers(tx, seq, fact.run, fact.changeovers);
    }
    await keepCorrection(tx, entry);
  },

  LinksCorrected: (tx: EntityManager, entry: Recorded<LinksCorrected>): Promise<void> => keepCorrection(tx, entry),
};

function keepCorrection(tx: EntityManager, { seq, at, actor, fact }: Recorded<RunCorrected | LinksCorrected>): Promise<void> {
  const linked = (fact.linked ?? []).reduce((sum, group) => sum + group.links.length, 0);
  return insertRows(
    tx,
    'run_correction',
    ['seq', 'run', 'corrects', 'reason', 'at', 'by', 'voided', 'linked'],
    [[seq, fact.run, fact.corrects, fact.reason, at, actor, canonicalJson(fact.voided ?? []), linked]],
  );
}

const insertCharges = (tx: EntityManager, seq: number, run: string, charges: readonly Charge[]): Promise<void> =>
  insertRows(
    tx,
    'run_charge',
    [...CHARGE, ...CHARGE_MORE],
    charges.map((charge): Value[] => [
      run,
      charge.charge,
      charge.step,
      charge.lot,
      charge.item,
      charge.spans === null ? null : formatSpans(charge.spans),
      charge.quantityMicro,
      charge.massMicro,
      charge.chargedAt,
      charge.by,
      charge.heel,
      canonicalJson(charge.into),
      canonicalJson(charge.deviations),
      charge.deviationReason,
      canonicalJson(charge.urgentReleases),
      json(charge.conversion),
      charge.takenFrom,
      charge.spans === null ? null : '',
      0,
      0,
      seq,
    ]),
  );

const insertChangeovers = (tx: EntityManager, seq: number, run: string, changeovers: readonly Changeover[]): Promise<void> =>
  insertRows(
    tx,
    'run_changeover',
    ['seq', 'n', 'run', 'item', 'lot', 'from_piece', 'changed_at'],
    changeovers.map(({ item, lot, fromPiece, changedAt }, i) => [seq, i + 1, run, item, lot, fromPiece, changedAt]),
  );

async function addInto(tx: EntityManager, run: string, charge: number, into: readonly Into[]): Promise<void> {
  const [row] = await queryRows<{ into: string }>(tx, 'SELECT "into" FROM "run_charge" WHERE "run" = ? AND "charge" = ?', [run, charge]);
  const all = [...(JSON.parse(row!.into) as Into[]), ...into];
  await queryRows(tx, 'UPDATE "run_charge" SET "into" = ? WHERE "run" = ? AND "charge" = ?', [canonicalJson(all), run, charge]);
}

async function takeBack(tx: EntityManager, run: string, returns: readonly ChargeReturn[]): Promise<void> {
  for (const back of returns) {
    const [row] = await queryRows<{ returned_spans: string | null }>(
      tx,
      'SELECT "returned_spans" FROM "run_charge" WHERE "run" = ? AND "charge" = ?',
      [run, back.charge],
    );
    const before = row!.returned_spans ? parseSpans(row!.returned_spans) : [];
    await queryRows(
      tx,
      `UPDATE "run_charge" SET "returned_spans" = ?, "returned" = "returned" + ?, "returned_mass" = "returned_mass" + ?
       WHERE "run" = ? AND "charge" = ?`,
      [back.spans === null ? null : formatSpans(unionSpans(before, back.spans)), back.quantityMicro, back.massMicro, run, back.charge],
    );
  }
}
