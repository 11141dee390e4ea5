import type { EntityManager } from 'typeorm';
import { selectIn } from '../../platform/database/rows.js';
import { inspectionState } from './inspection-state.query.js';
import type { InspectionLineView, QueuedInspectionView } from './inspection-view.dto.js';
import { inspectionQueue } from './inspection-view.query.js';
import type { InspectionQueryDto } from './inspection.dto.js';
import { judge } from './judge.decide.js';

/** The queue with how far each inspection under way is, and who works on it. */
export async function queuedInspections(from: EntityManager, query: InspectionQueryDto): Promise<QueuedInspectionView[]> {
  const lines = await inspectionQueue(from, query);
  const people = await peopleOf(
    from,
    lines.map(({ inspection }) => inspection),
  );
  const queued: QueuedInspectionView[] = [];
  for (const line of lines) queued.push({ ...line, people: people.get(line.inspection) ?? [], ...(await standingOf(from, line)) });
  return queued;
}

/** Only what is under way is judged: there are few of them, however long the list. */
async function standingOf(
  from: EntityManager,
  { inspection, state }: InspectionLineView,
): Promise<Pick<QueuedInspectionView, 'computed' | 'toInspect' | 'missing'>> {
  const found = state === 'begun' ? await inspectionState(from, inspection) : undefined;
  if (!found) return { computed: null, toInspect: null, missing: [] };
  const judged = judge({ ...found, characteristics: found.plan.characteristics });
  return { computed: judged.verdict, toInspect: judged.toInspect, missing: [...judged.missing] };
}

/** Who began, tallied, measured or decided, in order of code. */
async function peopleOf(from: EntityManager, inspections: readonly string[]): Promise<Map<string, string[]>> {
  const rows = await selectIn<{ code: string; actor: string }>(
    from,
    `SELECT DISTINCT s."code", e."actor" FROM "entry_subject" s JOIN "ledger_entry" e ON e."seq" = s."seq"
     WHERE s."kind" = 'inspection' AND e."kind" IN ('InspectionBegun', 'ItemsInspected', 'ResultRecorded', 'InspectionDecided')
       AND s."code" IN (:list)`,
    inspections,
  );
  const people = new Map<string, string[]>();
  for (const { code, actor } of rows) people.set(code, [...(people.get(code) ?? []), actor]);
  for (const [code, actors] of people) people.set(code, actors.toSorted());
  return people;
}
