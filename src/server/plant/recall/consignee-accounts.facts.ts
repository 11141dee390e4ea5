import { MICRO, sumMicro } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, type SpanSet, subtractSpans, unionSpans } from '../../../../shared/spans.js';
import { type Outcome, OUTCOMES, type Part, type RecallAccounted } from './progress.facts.js';

/** What went to a consignee in one shipment, and what of it is still out by the bookings. */
export interface SentLine extends Part {
  readonly lot: string;
  readonly unit: string;
  readonly out: Part;
}

/** What a consignee was sent of a lot, and where it is: sent = came back + destroyed + corrected + sold on + outstanding, always. */
export interface LotAccount {
  readonly lot: string;
  readonly unit: string;
  readonly sent: Part;
  /** By the returns that were booked here: nobody states it a second time. */
  readonly cameBack: Part;
  readonly destroyed: Part;
  readonly corrected: Part;
  readonly soldOn: Part;
  readonly outstanding: Part;
  /** What the consignee accounts for although it was never sent or came back: counted once, as what was booked. */
  readonly contradicted: Part;
  /** The entry of the statement, if there is one. */
  readonly statedSeq: number | null;
}

/** A statement of a consignee about a lot, as the last entry about both has it. */
export type Stated = Pick<RecallAccounted, 'outcomes'> & { readonly seq: number };

const pieces = (spans: SpanSet): Part => ({ spans, quantityMicro: countPieces(spans) * MICRO });
const amount = (quantityMicro: number): Part => ({ spans: null, quantityMicro });

/** Nothing, counted in the same way as something. */
export const nothingLike = (part: Part): Part => (part.spans === null ? amount(0) : pieces([]));

/** Two parts of one lot together; pieces in both count once. */
export function together(a: Part, b: Part): Part {
  if (a.spans === null || b.spans === null) return amount(sumMicro([a.quantityMicro, b.quantityMicro]));
  return pieces(unionSpans(a.spans, b.spans));
}

/**
 * The account of one consignee for one lot. What is booked as come back goes before what is stated, so that nothing is counted twice;
 * what is stated beyond it is named and not counted. So no account comes to more than what was sent.
 * @param lines of this consignee and lot, not empty
 * @see docs/rules/recall.md RL-15
 */
export function accountOf(lines: readonly SentLine[], stated: Stated | undefined): LotAccount {
  const [first] = lines as [SentLine, ...SentLine[]];
  const sent = lines.map((line): Part => line).reduce(together);
  const out = within(lines.map(({ out: part }) => part).reduce(together), sent);
  const counted = new Map<Outcome, Part>();
  let left = out;
  let contradicted = nothingLike(sent);
  for (const outcome of OUTCOMES) {
    const said = stated?.outcomes[outcome] ?? nothingLike(sent);
    const part = within(said, left);
    counted.set(outcome, part);
    contradicted = together(contradicted, less(said, part));
    left = less(left, part);
  }
  return {
    lot: first.lot,
    unit: first.unit,
    sent: plain(sent),
    cameBack: less(sent, out),
    destroyed: counted.get('destroyed')!,
    corrected: counted.get('corrected')!,
    soldOn: counted.get('soldOn')!,
    outstanding: left,
    contradicted,
    statedSeq: stated?.seq ?? null,
  };
}

const plain = ({ spans, quantityMicro }: Part): Part => ({ spans, quantityMicro });

/** What of `part` is in `whole`. */
function within(part: Part, whole: Part): Part {
  if (part.spans === null || whole.spans === null) return amount(Math.min(part.quantityMicro, whole.quantityMicro));
  return pieces(intersectSpans(part.spans, whole.spans));
}

/** What is left of `whole` without `part`, which is in it. */
function less(whole: Part, part: Part): Part {
  if (part.spans === null || whole.spans === null) return amount(whole.quantityMicro - part.quantityMicro);
  return pieces(subtractSpans(whole.spans, part.spans));
}

/** Sums of accounts in one unit, in whole millionths; numbered pieces count as `pieces`. */
export interface UnitSum {
  readonly unit: string;
  readonly sentMicro: number;
  readonly cameBackMicro: number;
  readonly destroyedMicro: number;
  readonly correctedMicro: number;
  readonly soldOnMicro: number;
  readonly outstandingMicro: number;
  readonly contradictedMicro: number;
}

/** Accounts summed by unit, by unit. */
export function sumAccounts(accounts: readonly LotAccount[]): UnitSum[] {
  const units = new Map<string, LotAccount[]>();
  for (const account of accounts) {
    const unit = account.sent.spans === null ? account.unit : 'pieces';
    units.set(unit, [...(units.get(unit) ?? []), account]);
  }
  return [...units]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([unit, list]) => {
      const sum = (part: (account: LotAccount) => Part): number => sumMicro(list.map((account) => part(account).quantityMicro));
      return {
        unit,
        sentMicro: sum((account) => account.sent),
        cameBackMicro: sum((account) => account.cameBack),
        destroyedMicro: sum((account) => account.destroyed),
        correctedMicro: sum((account) => account.corrected),
        soldOnMicro: sum((account) => account.soldOn),
        outstandingMicro: sum((account) => account.outstanding),
        contradictedMicro: sum((account) => account.contradicted),
      };
    });
}

/** Whole hundredths of a per cent, rounded down, so that only all of it is 100 %. Of nothing, all is accounted for. */
export const shareBp = (partMicro: number, wholeMicro: number): number =>
  wholeMicro === 0 ? 10_000 : Number((BigInt(partMicro) * 10_000n) / BigInt(wholeMicro));

/** A consignee with its account for every lot it was sent, by lot. */
export interface ConsigneeAccount {
  readonly customer: string;
  readonly lots: readonly LotAccount[];
}
