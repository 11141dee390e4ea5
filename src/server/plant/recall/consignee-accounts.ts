import { MICRO, sumMicro } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import type { Consignee, ConsigneeLine } from '../../documents/recall-report.types.js';
import { affectedMicro } from './affected.js';
import type { RecordShare } from './closing.decide.js';
import { accountOf, type ConsigneeAccount, type LotAccount, type SentLine, type Stated } from './consignee-accounts.facts.js';
import type { Figures } from './figures.query.js';
import type { Part, RecallAccounted } from './progress.facts.js';
import type { Progress, RecallEntry } from './progress-state.facts.js';

type Statement = RecallEntry<RecallAccounted>;

/** The account of every consignee for every lot: what the bookings say, and what it stated beside them. By customer, then lot. */
export function consigneeAccounts(consignees: readonly Consignee[], progress: Progress): ConsigneeAccount[] {
  const stated = new Map<string, Map<string, Statement>>();
  for (const entry of progress.accounts) {
    const { customer, lot } = entry.fact;
    stated.set(customer, (stated.get(customer) ?? new Map<string, Statement>()).set(lot, entry));
  }
  const heads = new Map(consignees.map((consignee) => [consignee.code, consignee]));
  const customers = [...new Set([...heads.keys(), ...stated.keys()])].toSorted();
  return customers
    .map((customer) => ({ customer, lots: lotAccounts(heads.get(customer)?.lines ?? [], stated.get(customer), progress.scopedSeq) }))
    .filter(({ lots }) => lots.length > 0);
}

function lotAccounts(
  lines: readonly ConsigneeLine[],
  stated: ReadonlyMap<string, Statement> = new Map<string, Statement>(),
  scopedSeq: number,
): LotAccount[] {
  const byLot = new Map<string, SentLine[]>();
  for (const line of lines) byLot.set(line.lot, [...(byLot.get(line.lot) ?? []), line]);
  for (const [lot, statement] of stated) {
    // Stated under an earlier scope, a lot that is not sent may have left the scope: nobody contradicts anybody.
    if (!byLot.has(lot) && statement.seq > scopedSeq) byLot.set(lot, [neverSent(lot, statement)]);
  }
  return [...byLot]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([lot, of]) => {
      const statement = stated.get(lot);
      return accountOf(of, statement && statedBy(statement, of, scopedSeq));
    });
}

/** What was stated; of a statement under an earlier scope, only the pieces that this one has. */
function statedBy({ seq, fact }: Statement, lines: readonly SentLine[], scopedSeq: number): Stated {
  if (seq > scopedSeq) return { seq, outcomes: fact.outcomes };
  const scope = lines.map(({ spans }) => spans ?? []).reduce(unionSpans, []);
  const { destroyed, corrected, soldOn } = fact.outcomes;
  return { seq, outcomes: { destroyed: inScope(destroyed, scope), corrected: inScope(corrected, scope), soldOn: inScope(soldOn, scope) } };
}

function inScope(part: Part, scope: SpanSet): Part {
  if (part.spans === null) return part;
  const spans = intersectSpans(part.spans, scope);
  return { spans, quantityMicro: countPieces(spans) * MICRO };
}

/** A lot accounted for that was not sent after all: a shipment was put right since. */
function neverSent(lot: string, { fact }: Statement): SentLine {
  const spans = fact.outcomes.destroyed.spans === null ? null : [];
  const nothing = { spans, quantityMicro: 0 };
  return { lot, unit: 'units', ...nothing, out: nothing };
}

/**
 * How much of what is affected the record accounts for, by unit: on hand, shipped, scrapped, sampled and used, but not differences of
 * counts, which nobody can explain. Lot by lot, so that too much of one does not make up for too little of another.
 * @see docs/rules/recall.md RL-19
 */
export function recordShares({ affected, lots, whereabouts }: Figures): RecordShare[] {
  const found = new Map<string, number>();
  for (const { lot, fate, quantityMicro } of whereabouts) {
    if (fate !== 'counted adjustment') found.set(lot, sumMicro([found.get(lot) ?? 0, quantityMicro]));
  }
  const shares = new Map<string, RecordShare>();
  for (const [id, spans] of affected) {
    const lot = lots.get(id)!;
    const unit = spans === null ? lot.unit : 'pieces';
    const whole = affectedMicro(lot, spans);
    const accounted = found.get(lot.lot) ?? 0;
    const before = shares.get(unit) ?? { unit, affectedMicro: 0, accountedMicro: 0, overMicro: 0 };
    shares.set(unit, {
      unit,
      affectedMicro: sumMicro([before.affectedMicro, whole]),
      accountedMicro: sumMicro([before.accountedMicro, Math.min(whole, accounted)]),
      overMicro: sumMicro([before.overMicro, Math.max(0, accounted - whole)]),
    });
  }
  return [...shares.values()].toSorted((a, b) => (a.unit < b.unit ? -1 : 1));
}
