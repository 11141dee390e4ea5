import { sumMicro } from '../../../../shared/quantity.js';
import type { Consignee } from '../../documents/recall-report.types.js';
import { affectedMicro } from './affected.js';
import type { RecordShare } from './closing.decide.js';
import { accountOf, type ConsigneeAccount, type SentLine, type Stated } from './consignee-accounts.facts.js';
import type { Figures } from './figures.query.js';
import type { RecallAccounted } from './progress.facts.js';
import type { Progress, RecallEntry } from './progress-state.facts.js';

/** The account of every consignee for every lot: what the bookings say, and what it stated beside them. By customer, then lot. */
export function consigneeAccounts(consignees: readonly Consignee[], progress: Progress): ConsigneeAccount[] {
  const stated = new Map<string, Map<string, RecallEntry<RecallAccounted>>>();
  for (const entry of progress.accounts) {
    const { customer, lot } = entry.fact;
    stated.set(customer, (stated.get(customer) ?? new Map<string, RecallEntry<RecallAccounted>>()).set(lot, entry));
  }
  const customers = [...new Set([...consignees.map(({ code }) => code), ...stated.keys()])].toSorted();
  return customers.map((customer) => {
    const lines = consignees.find(({ code }) => code === customer)?.lines ?? [];
    const said = stated.get(customer) ?? new Map<string, RecallEntry<RecallAccounted>>();
    const lots = [...new Set([...lines.map(({ lot }) => lot), ...said.keys()])].toSorted();
    return {
      customer,
      lots: lots.map((lot) => {
        const statement = said.get(lot);
        const of = lines.filter((line) => line.lot === lot);
        return accountOf(of.length > 0 ? of : [neverSent(lot, statement!)], statement && statedBy(statement));
      }),
    };
  });
}

const statedBy = ({ seq, fact }: RecallEntry<RecallAccounted>): Stated => ({ seq, outcomes: fact.outcomes });

/** A lot accounted for that was not sent after all: a shipment put right since, or a narrower scope. */
function neverSent(lot: string, { fact }: RecallEntry<RecallAccounted>): SentLine {
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
