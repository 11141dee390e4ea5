import type { EntityManager } from 'typeorm';
import type { LotPart, RunInProcess } from '../../documents/recall-report.types.js';
import { selectIn } from '../../platform/database/rows.js';
import type { Figures } from './figures.query.js';

/** What the entry that started a run says of it. */
interface Started {
  readonly run: string;
  readonly runKind: string;
  readonly vessel: string | null;
  readonly line: string | null;
  readonly startedAt: string;
}

/** Runs that had taken affected material and were not closed, as known at the entry: what they will yield is in no list yet. */
export async function runsInProcessAt(from: EntityManager, { whereabouts, seq }: Figures): Promise<RunInProcess[]> {
  const took = new Map<string, LotPart[]>();
  for (const { fate, holder, lot, spans, quantityMicro, unit } of whereabouts) {
    if (fate !== 'consumed') continue;
    const parts = took.get(holder) ?? [];
    parts.push({ lot, spans, quantityMicro, unit });
    took.set(holder, parts);
  }
  const codes = [...took.keys()];
  const closed = new Set((await entriesOfRuns(from, 'RunClosed', codes, seq)).map(({ run }) => run));
  return (await entriesOfRuns(from, 'RunStarted', codes, seq))
    .filter(({ run }) => !closed.has(run))
    .map(({ run, runKind, vessel, line, startedAt }) => ({
      run,
      kind: runKind,
      place: vessel ?? line ?? 'no vessel or line recorded',
      startedAt,
      took: took.get(run)!,
    }))
    .toSorted((a, b) => (a.run < b.run ? -1 : 1));
}

/** The entries of one kind that name these runs, up to entry `seq`. */
async function entriesOfRuns(
  from: EntityManager,
  kind: 'RunStarted' | 'RunClosed',
  runs: readonly string[],
  seq: number,
): Promise<Started[]> {
  const rows = await selectIn<{ body: string }>(
    from,
    `SELECT e."body" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'run' AND e."kind" = '${kind}' AND e."seq" <= ${seq} AND s."code" IN (:list) ORDER BY e."seq"`,
    runs,
  );
  const facts = rows.map((row) => JSON.parse(row.body) as Started);
  const wanted = new Set(runs);
  return facts.filter(({ run }) => wanted.has(run));
}
