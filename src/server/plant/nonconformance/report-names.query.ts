import type { EntityManager } from 'typeorm';
import { selectIn } from '../../platform/database/rows.js';
import { knownLots, stoodAt } from '../recall/known-at.query.js';
import { lotIds } from '../stock/lot-ids.query.js';
import type { HoldOfReport } from './report-position.query.js';
import type { Names } from './report-printed.js';
import type { Report } from './report-state.facts.js';

/** Names of everybody and of every lot that a report names. Items are named as they were when the lot came into being. */
export async function namesFor(from: EntityManager, report: Report, holds: readonly HoldOfReport[]): Promise<Names> {
  const lots = await lotNames(from, report, holds);
  const people = await personNames(from, report);
  return {
    person: (person) => ({ person, name: people.get(person) ?? null }),
    lot(code) {
      const lot = lots.get(code);
      if (!lot) throw new Error(`${report.report} names lot ${code} in a place that is not looked into`);
      return lot;
    },
  };
}

async function lotNames(
  from: EntityManager,
  report: Report,
  holds: readonly HoldOfReport[],
): Promise<Map<string, ReturnType<Names['lot']>>> {
  const sorted = report.dispositions.flatMap((one) => [
    one.carriedOut?.fact.sorted?.conforming,
    one.carriedOut?.fact.sorted?.nonconforming,
  ]);
  const parts = [
    ...report.affected,
    ...report.judged.map((one) => one.fact.part),
    ...report.dispositions.map((one) => one.terms.part),
    ...sorted.flatMap((part) => part ?? []),
    ...holds,
  ];
  const ids = await lotIds(
    from,
    parts.map((part) => part.lot),
  );
  const known = await knownLots(from, [...ids.values()]);
  return new Map([...known.values()].map(({ lot, item, itemRecord, unit }) => [lot, { item, itemName: itemRecord?.name ?? null, unit }]));
}

/** Names are kept beside the ledger, as they are now: they can be erased. */
async function personNames(from: EntityManager, report: Report): Promise<Map<string, string | null>> {
  const owners = report.actions.map((one) => one.planned.fact.owner);
  const signers = report.entries.flatMap(({ fact }) => ('signature' in fact ? [fact.signature.by] : []));
  const rows = await selectIn<{ person: string; display_name: string | null }>(
    from,
    'SELECT "person", "display_name" FROM "person_account" WHERE "person" IN (:list)',
    [...new Set([report.raised.fact.foundBy, ...owners, ...signers, ...report.entries.map((entry) => entry.actor)])],
  );
  return new Map(rows.map((row) => [row.person, row.display_name]));
}

/** Names of defects as they stood at an entry. */
export async function defectNames(from: EntityManager, codes: readonly string[], seq: number): Promise<Map<string, string>> {
  const rows = await selectIn<{ code: string; record: string }>(
    from,
    `SELECT "code", "record" FROM "catalogue_record" WHERE "what" = 'defect' AND ${stoodAt(seq)} AND "code" IN (:list)`,
    [...new Set(codes)],
  );
  return new Map(rows.map((row) => [row.code, (JSON.parse(row.record) as { readonly name: string }).name]));
}
