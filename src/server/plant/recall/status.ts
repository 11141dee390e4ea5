import { canonicalJson } from '../../../../shared/canonical-json.js';
import { formatQuantity, sumMicro } from '../../../../shared/quantity.js';
import { addDays } from '../../../../shared/time.js';
import type { Consignee } from '../../documents/recall-report.types.js';
import { sha256 } from '../../ledger/append.js';
import { outstandingOf, type RecordShare, standingSignature, writtenBp } from './closing.decide.js';
import { type ConsigneeAccount, shareBp, sumAccounts } from './consignee-accounts.facts.js';
import { checksNeeded } from './effectiveness.facts.js';
import { noticeText } from './notice-text.facts.js';
import type { RecallAnswered, RecallStrategySet } from './progress.facts.js';
import { latestBy, type Progress, type RecallEntry } from './progress-state.facts.js';
import { consigneeStatuses, goodsView, noticeView } from './status-consignees.js';
import type {
  ClosingSignatureView,
  RecallChecksView,
  GapView,
  KnownEntryView,
  MeasuredTimeView,
  NoticeTextView,
  RecallProgressView,
  RecallStrategyView,
  RecallTimesView,
  UnitQuantityView,
} from './status.dto.js';

/** Everything a status is told from, as known at one entry. */
export interface StatusGround {
  readonly progress: Progress;
  readonly asKnownAt: KnownEntryView;
  readonly consignees: readonly Consignee[];
  readonly accounts: readonly ConsigneeAccount[];
  readonly record: readonly RecordShare[];
  /** When everything sent was accounted for, and has been since; null while it is not. */
  readonly reconciledAt: string | null;
}

/** A drill is to trace both ways and account for everything in four hours (plant practice). */
const DRILL_TARGET_SECONDS = 4 * 3600;

/**
 * The status of a recall. Pure: told from entries up to one, and from nothing that happens later, not even the clock.
 * @see docs/rules/recall.md RL-16
 */
export function statusOf(ground: StatusGround): RecallProgressView {
  const { progress, asKnownAt, accounts } = ground;
  const { fact } = progress.opened;
  const strategies = progress.strategies.map(strategyView);
  const terms = progress.strategies.at(-1)?.fact.terms ?? null;
  const told = latestBy(progress.notices);
  const answers = [...latestBy(progress.answers).values()];
  const consignees = consigneeStatuses(accounts, ground.consignees, progress);
  const today = asKnownAt.at.slice(0, 10);
  const first = progress.notices.at(0);
  const hash = signedStatus(ground);
  return {
    recall: progress.recall,
    title: fact.title,
    type: fact.type,
    drill: fact.drill,
    status: progress.closed ? 'closed' : 'open',
    asKnownAt,
    version: progress.version,
    reports: [...progress.reports],
    strategy: strategies.at(-1) ?? null,
    strategies,
    texts: progress.texts.map((text): NoticeTextView => {
      const { version, parts } = text.fact;
      return { version, seq: text.seq, at: text.at, by: text.actor, content: noticeText(parts, terms?.class ?? null, fact.drill) };
    }),
    notified: {
      consignees: accounts.length,
      notified: accounts.filter(({ customer }) => told.has(customer)).length,
      notNotified: accounts.filter(({ customer }) => !told.has(customer)).map(({ customer }) => customer),
      publicNotices: progress.notices.filter((notice) => notice.fact.customer === null).map(noticeView),
    },
    replied: { replied: consignees.filter(({ answer }) => answer !== null).length, onHand: onHandOf(answers, accounts) },
    silent: consignees.flatMap(({ customer, name, contact, answer }) => {
      const last = told.get(customer);
      if (answer !== null || !last) return [];
      const nextContactOn = last.fact.nextContactOn!;
      return [{ customer, name, contact, lastNoticeAt: last.at, nextContactOn, due: nextContactOn <= today }];
    }),
    goods: sumAccounts(accounts.flatMap(({ lots }) => lots)).map(goodsView),
    effectiveness: effectivenessOf(progress, accounts),
    completion: {
      estimatedOn: terms?.completionOn ?? null,
      nextReportOn: first && terms && !progress.closed ? nextAfter(today, first.at.slice(0, 10), terms.reportEveryDays) : null,
    },
    consignees,
    record: ground.record.map(({ unit, affectedMicro, accountedMicro, overMicro }) => ({
      unit,
      affected: formatQuantity(affectedMicro),
      accounted: formatQuantity(accountedMicro),
      over: formatQuantity(overMicro),
      share: writtenBp(shareBp(accountedMicro, affectedMicro)),
    })),
    times: timesOf(ground),
    gaps: progress.gaps.map(gapView),
    outstanding: outstandingOf({ progress, consignees: accounts, record: ground.record }),
    signatures: signatureViews(progress, hash),
  };
}

/** What a closing signature signs: everything that stands in the status, but not when it was asked for. */
export function signedStatus({ progress, accounts, record }: StatusGround): string {
  const last = progress.strategies.at(-1)?.seq ?? null;
  const seqs = [progress.notices, progress.answers, progress.checks].map((entries) => entries.map(({ seq }) => seq));
  return sha256(canonicalJson({ recall: progress.recall, version: progress.version, strategy: last, seqs, accounts, record }));
}

const strategyView = ({ seq, at, actor, fact }: RecallEntry<RecallStrategySet>): RecallStrategyView => ({
  seq,
  at,
  by: actor,
  ...fact.terms,
  reason: fact.reason,
  meaning: fact.signature.meaning,
});

/** What consignees say they have, by unit; numbered pieces count as `pieces`. */
function onHandOf(answers: readonly RecallEntry<RecallAnswered>[], accounts: readonly ConsigneeAccount[]): UnitQuantityView[] {
  const units = new Map(accounts.flatMap(({ lots }) => lots.map(({ lot, unit }) => [lot, unit] as const)));
  const sums = new Map<string, number>();
  for (const { lot, spans, quantityMicro } of answers.flatMap(({ fact }) => fact.onHand)) {
    const unit = spans === null ? (units.get(lot) ?? 'units') : 'pieces';
    sums.set(unit, sumMicro([sums.get(unit) ?? 0, quantityMicro]));
  }
  return [...sums].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([unit, micro]) => ({ unit, quantity: formatQuantity(micro) }));
}

function effectivenessOf(progress: Progress, accounts: readonly ConsigneeAccount[]): RecallChecksView {
  const terms = progress.strategies.at(-1)?.fact.terms;
  const last = latestBy(progress.checks);
  const checks = accounts.flatMap(({ customer }) => last.get(customer)?.fact ?? []);
  return {
    level: terms?.level ?? null,
    needed: terms ? checksNeeded(terms.level, accounts.length, terms.sampleSize) : 0,
    checked: checks.length,
    reached: checks.filter(({ reached }) => reached).length,
    followed: checks.filter(({ followed }) => followed).length,
  };
}

/** The first day after `today` that is a whole number of periods after `start`. */
function nextAfter(today: string, start: string, days: number): string {
  let next = addDays(start, days);
  while (next <= today) next = addDays(next, days);
  return next;
}

function timesOf({ progress, asKnownAt, reconciledAt }: StatusGround): RecallTimesView {
  const openedAt = progress.opened.at;
  const since = (at: string): number => Math.floor((Date.parse(at) - Date.parse(openedAt)) / 1000);
  const measured = (at: string | null | undefined): MeasuredTimeView | null => (at ? { at, seconds: since(at) } : null);
  const clock = since(progress.closed?.at ?? asKnownAt.at);
  return {
    openedAt,
    scope: { at: progress.scopedAt, seconds: since(progress.scopedAt) },
    firstNotice: measured(progress.notices.at(0)?.at),
    reconciliation: measured(reconciledAt),
    closing: measured(progress.closed?.at),
    drill: progress.opened.fact.drill
      ? {
          seconds: clock,
          running: progress.closed === null,
          targetSeconds: DRILL_TARGET_SECONDS,
          withinTarget: clock <= DRILL_TARGET_SECONDS,
        }
      : null,
  };
}

const gapView = ({ found, closed }: Progress['gaps'][number]): GapView => ({
  gap: found.fact.gap,
  seq: found.seq,
  found: found.fact.found,
  action: found.fact.action,
  owner: found.fact.owner,
  dueOn: found.fact.dueOn,
  done: closed?.fact.done ?? null,
  doneAt: closed?.at ?? null,
});

function signatureViews(progress: Progress, hash: string): ClosingSignatureView[] {
  const standing = progress.closed ?? standingSignature(progress, hash);
  return progress.signatures.map(({ seq, at, fact }) => ({
    seq,
    at,
    by: fact.signature.by,
    as: fact.as,
    reason: fact.reason,
    meaning: fact.signature.meaning,
    outstanding: [...fact.outstanding],
    nevertheless: fact.nevertheless,
    closes: fact.closes,
    stands: standing !== undefined && fact.status === standing.fact.status && fact.status === hash,
  }));
}
