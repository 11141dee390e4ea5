import type { EntityManager } from 'typeorm';
import type { SpanSet } from '../../../../shared/spans.js';
import { type SuspectKind, SUSPECT_KINDS } from '../../../../shared/api/suspects.js';
import { standingCalibrations } from '../../plant/instruments/known-good.query.js';
import { storedSpans } from '../../platform/database/columns.js';
import { selectIn } from '../../platform/database/rows.js';
import type { Candidate } from './rank.js';

/** A candidate with its name: a lot, or what had a hand in some lots. */
export interface Hand extends Candidate {
  readonly kind: SuspectKind;
  readonly code: string;
  readonly item: string | null;
  readonly supplier: string | null;
  /** Of a vessel or an instrument: the cleaning or calibration before and after; null where there was none. */
  readonly from: string | null;
  readonly until: string | null;
}

interface Part {
  readonly lot: number;
  readonly spans: SpanSet | null;
}

interface LotRow {
  readonly id: number;
  readonly code: string;
  readonly item: string;
  readonly supplier: string | null;
  readonly supplier_lot: string | null;
  readonly assigned: boolean | number;
  readonly run: string | null;
  readonly line: string | null;
  readonly people: string | null;
}

/** Hands as they are found, each once. */
class Hands {
  readonly #found = new Map<string, Hand & { readonly parts: Part[] }>();

  add(kind: SuspectKind, code: string, part: Part, more: Partial<Omit<Hand, 'kind' | 'code' | 'parts'>> = {}): void {
    const key = JSON.stringify([kind, code, more.supplier ?? null, more.from ?? null, more.until ?? null]);
    const hand = this.#found.get(key) ?? { kind, code, item: null, supplier: null, from: null, until: null, ...more, parts: [] };
    this.#found.set(key, hand);
    hand.parts.push(part);
  }

  /** By kind, code, supplier and time. */
  get list(): Hand[] {
    const key = ({ kind, code, supplier, from }: Hand): string =>
      [SUSPECT_KINDS.indexOf(kind), code, supplier ?? '', from ?? ''].join('\u0000');
    return [...this.#found.values()]
      .map((hand) => ({ key: key(hand), hand }))
      .toSorted((a, b) => (a.key < b.key ? -1 : 1))
      .map(({ hand }) => hand);
  }
}

/** The lots and everything that had a hand in them, as known at entry `seq`. */
export async function handsIn(from: EntityManager, lotIds: readonly number[], seq: number): Promise<Hand[]> {
  const rows = await selectIn<LotRow>(
    from,
    `SELECT l."id", l."code", l."item", l."supplier", l."supplier_lot", l."supplier_lot_assigned" AS "assigned",
       CASE WHEN l."origin" = 'made' THEN l."source" END AS "run", r."line", r."people"
     FROM "lot" l LEFT JOIN "run" r ON l."origin" = 'made' AND r."code" = l."source" WHERE l."id" IN (:list)`,
    lotIds,
  );
  const hands = new Hands();
  const whole = (row: LotRow): Part => ({ lot: row.id, spans: null });
  const byRun = new Map<string, LotRow[]>();
  for (const row of rows) {
    hands.add('lot', row.code, whole(row), { item: row.item });
    if (row.supplier_lot !== null && !row.assigned) hands.add('supplier-lot', row.supplier_lot, whole(row), { supplier: row.supplier });
    if (row.run !== null) {
      hands.add('run', row.run, whole(row));
      listed(byRun, row.run).push(row);
    }
    if (row.line !== null) hands.add('line', row.line, whole(row));
  }
  for (const [run, people] of await peopleOf(from, byRun, seq)) {
    for (const person of people) for (const row of byRun.get(run)!) hands.add('person', person, whole(row));
  }
  const byCode = new Map(rows.map((row) => [row.code, row]));
  await addVessels(from, hands, byCode, seq);
  await addInstruments(from, hands, byCode, seq);
  return hands.list;
}

/** Who worked on runs: those named on them, and those who charged them. */
async function peopleOf(from: EntityManager, runs: ReadonlyMap<string, readonly LotRow[]>, seq: number): Promise<Map<string, Set<string>>> {
  const people = new Map<string, Set<string>>();
  for (const [run, [row]] of runs) people.set(run, new Set(row?.people ? (JSON.parse(row.people) as string[]) : []));
  const charged = await selectIn<{ run: string; by: string }>(
    from,
    `SELECT DISTINCT "run", "by" FROM "run_charge" WHERE "seq" <= ${seq} AND "run" IN (:list)`,
    [...runs.keys()],
  );
  for (const { run, by } of charged) people.get(run)!.add(by);
  return people;
}

/** Vessels between two cleanings, as a trace from a vessel takes them (docs/rules/trace.md T-10). */
async function addVessels(from: EntityManager, hands: Hands, lots: ReadonlyMap<string, LotRow>, seq: number): Promise<void> {
  const stays = await selectIn<{ vessel: string; lot: string; at: string }>(
    from,
    `SELECT DISTINCT "vessel", "lot", "at" FROM "vessel_batch" WHERE "seq" <= ${seq} AND "lot" IN (:list)`,
    [...lots.keys()],
  );
  const cleaned = await selectIn<{ vessel: string; at: string }>(
    from,
    `SELECT "vessel", "cleaned_at" AS "at" FROM "vessel_cleaning" WHERE "seq" <= ${seq} AND "vessel" IN (:list)`,
    [...new Set(stays.map(({ vessel }) => vessel))],
  );
  const cleanings = new Map<string, string[]>();
  for (const { vessel, at } of cleaned) listed(cleanings, vessel).push(at);
  for (const times of cleanings.values()) times.sort();
  for (const { vessel, lot, at } of stays) {
    for (const time of timesAround(cleanings.get(vessel) ?? [], at))
      hands.add('vessel', vessel, { lot: lots.get(lot)!.id, spans: null }, time);
  }
}

/** Instruments between two calibrations, with all that the inspections they were used in stood for. */
async function addInstruments(from: EntityManager, hands: Hands, lots: ReadonlyMap<string, LotRow>, seq: number): Promise<void> {
  const used = await selectIn<{ instrument: string; at: string; lot: string; spans: string | null }>(
    from,
    `SELECT DISTINCT t."instrument", t."at", i."lot", i."spans" FROM "test_result" t JOIN "inspection" i ON i."code" = t."inspection"
     WHERE t."instrument" IS NOT NULL AND t."since_seq" <= ${seq} AND (t."until_seq" IS NULL OR t."until_seq" > ${seq})
       AND i."lot" IN (:list)`,
    [...lots.keys()],
  );
  const calibrated = new Map<string, string[]>();
  for (const { instrument, at, lot, spans } of used) {
    const times = calibrated.get(instrument) ?? (await standingCalibrations(from, instrument, seq)).map((one) => one.calibratedAt);
    calibrated.set(instrument, times);
    const part = { lot: lots.get(lot)!.id, spans: storedSpans(spans) };
    for (const time of timesAround(times, at)) hands.add('instrument', instrument, part, time);
  }
}

/** The stretch between two of some instants, in order, that holds another; two where it falls on one of them. */
function timesAround(instants: readonly string[], at: string): { from: string | null; until: string | null }[] {
  const before = instants.findLast((one) => one < at) ?? null;
  const after = instants.find((one) => one > at) ?? null;
  if (!instants.includes(at)) return [{ from: before, until: after }];
  return [
    { from: before, until: at },
    { from: at, until: after },
  ];
}

/** The list under a key, made if there is none. */
function listed<T>(lists: Map<string, T[]>, key: string): T[] {
  const list = lists.get(key) ?? [];
  lists.set(key, list);
  return list;
}
