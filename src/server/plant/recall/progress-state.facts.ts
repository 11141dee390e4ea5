import type {
  ProgressFact,
  RecallAccounted,
  RecallAnswered,
  RecallClosingSigned,
  RecallEffectivenessChecked,
  RecallGapClosed,
  RecallGapFound,
  RecallNoticeSent,
  RecallNoticeWritten,
  RecallStrategySet,
} from './progress.facts.js';
import type { RecallOpened } from './recall.facts.js';

/** An entry about a recall. */
export interface RecallEntry<F extends ProgressFact = ProgressFact> {
  readonly seq: number;
  readonly at: string;
  readonly actor: string;
  readonly fact: F;
}

/** How far a recall has come, as its entries make it. */
export interface Progress {
  readonly recall: string;
  readonly opened: RecallEntry<RecallOpened>;
  /** Version of the scope, and when it was frozen. */
  readonly version: number;
  readonly scopedAt: string;
  readonly scopedSeq: number;
  readonly reports: readonly string[];
  /** First to latest; the last one counts. */
  readonly strategies: readonly RecallEntry<RecallStrategySet>[];
  readonly texts: readonly RecallEntry<RecallNoticeWritten>[];
  readonly notices: readonly RecallEntry<RecallNoticeSent>[];
  readonly answers: readonly RecallEntry<RecallAnswered>[];
  readonly accounts: readonly RecallEntry<RecallAccounted>[];
  readonly checks: readonly RecallEntry<RecallEffectivenessChecked>[];
  readonly gaps: readonly { readonly found: RecallEntry<RecallGapFound>; readonly closed: RecallEntry<RecallGapClosed> | null }[];
  readonly signatures: readonly RecallEntry<RecallClosingSigned>[];
  readonly closed: RecallEntry<RecallClosingSigned> | null;
}

/**
 * What the entries about a recall come to. Pure: the same entries give the same progress, so it can be asked as of any ledger position
 * by leaving out what came later.
 * @returns undefined when there is no entry that opens it
 * @see docs/rules/recall.md RL-11
 */
export function recallProgress(entries: readonly RecallEntry[]): Progress | undefined {
  const [first, ...rest] = entries;
  if (first?.fact.kind !== 'RecallOpened') return undefined;
  return rest.reduce((progress, entry) => ({ ...progress, ...changed(progress, entry) }), begun(first as RecallEntry<RecallOpened>));
}

const begun = (opened: RecallEntry<RecallOpened>): Progress => ({
  recall: opened.fact.recall,
  opened,
  version: 1,
  scopedAt: opened.at,
  scopedSeq: opened.seq,
  reports: [],
  strategies: [],
  texts: [],
  notices: [],
  answers: [],
  accounts: [],
  checks: [],
  gaps: [],
  signatures: [],
  closed: null,
});

function changed(progress: Progress, entry: RecallEntry): Partial<Progress> {
  const { fact, at, seq } = entry;
  switch (fact.kind) {
    case 'RecallRescoped':
      return { version: fact.version, scopedAt: at, scopedSeq: seq };
    case 'RecallReportsLinked':
      return { reports: [...new Set([...progress.reports, ...fact.reports.map(({ report }) => report)])].toSorted() };
    case 'RecallStrategySet':
      return { strategies: [...progress.strategies, entry as RecallEntry<RecallStrategySet>] };
    case 'RecallNoticeWritten':
      return { texts: [...progress.texts, entry as RecallEntry<RecallNoticeWritten>] };
    case 'RecallNoticeSent':
      return { notices: [...progress.notices, entry as RecallEntry<RecallNoticeSent>] };
    case 'RecallAnswered':
      return { answers: [...progress.answers, entry as RecallEntry<RecallAnswered>] };
    case 'RecallAccounted':
      return { accounts: [...progress.accounts, entry as RecallEntry<RecallAccounted>] };
    case 'RecallEffectivenessChecked':
      return { checks: [...progress.checks, entry as RecallEntry<RecallEffectivenessChecked>] };
    case 'RecallGapFound':
      return { gaps: [...progress.gaps, { found: entry as RecallEntry<RecallGapFound>, closed: null }] };
    case 'RecallGapClosed':
      return {
        gaps: progress.gaps.map((gap) =>
          gap.found.fact.gap === fact.gap ? { ...gap, closed: entry as RecallEntry<RecallGapClosed> } : gap,
        ),
      };
    case 'RecallClosingSigned': {
      const signed = entry as RecallEntry<RecallClosingSigned>;
      return { signatures: [...progress.signatures, signed], closed: fact.closes ? signed : progress.closed };
    }
    default:
      return {};
  }
}

/** The last of the entries about each consignee, by customer. */
export function latestBy<E extends { readonly fact: { readonly customer: string | null } }>(entries: readonly E[]): Map<string, E> {
  const last = new Map<string, E>();
  for (const entry of entries) if (entry.fact.customer !== null) last.set(entry.fact.customer, entry);
  return last;
}
