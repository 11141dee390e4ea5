import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { nextDocument } from '../stock/codes.query.js';
import type { StartRun, StartState } from './start.decide.js';
import { lastBatch, openInVessel, runInVessel } from './vessel.query.js';

/** What starting a run rests on. */
export async function startState(tx: EntityManager, command: StartRun, at: string): Promise<StartState> {
  const one = async <K extends 'item' | 'recipe' | 'bom' | 'vessel' | 'line'>(what: K) =>
    command[what] === undefined ? undefined : (await catalogueByCode(tx, what, [command[what]])).get(command[what]);
  const clinging = command.vessel === undefined ? undefined : await lastBatch(tx, command.vessel);
  return {
    at,
    nextRun: await nextRun(tx),
    codeTaken: command.run !== undefined && (await isTaken(tx, command.run)),
    item: await one('item'),
    recipe: await one('recipe'),
    bom: await one('bom'),
    vessel: await one('vessel'),
    line: await one('line'),
    openThere: await openThere(tx, command),
    residues: clinging ? [{ lot: clinging.lot, vessel: command.vessel! }] : [],
  };
}

async function openThere(tx: EntityManager, { vessel, line }: StartRun): Promise<StartState['openThere']> {
  const inVessel = vessel === undefined ? [] : await inOrFrom(tx, vessel);
  if (line === undefined) return inVessel;
  const onLine = await queryRows<{ code: string }>(
    tx,
    'SELECT "code" FROM "run" WHERE "line" = ? AND "closed_seq" IS NULL ORDER BY "code"',
    [line],
  );
  return [...inVessel, ...onLine.map(({ code }) => ({ run: code, place: line, left: false }))];
}

async function inOrFrom(tx: EntityManager, vessel: string): Promise<StartState['openThere']> {
  const there = await runInVessel(tx, vessel);
  return (await openInVessel(tx, vessel)).map((run) => ({ run, place: vessel, left: run !== there }));
}

/** A run of that code is in the plant, or came over from older records, which keep it only in lots and links. */
const isTaken = async (tx: EntityManager, run: string): Promise<boolean> =>
  (
    await queryRows(
      tx,
      `SELECT 1 AS "one" FROM "run" WHERE "code" = ? UNION ALL SELECT 1 AS "one" FROM "lot" WHERE "source" = ?
       UNION ALL SELECT 1 AS "one" FROM "link" WHERE "run" = ? LIMIT 1`,
      [run, run, run],
    )
  ).length > 0;

async function nextRun(tx: EntityManager): Promise<string> {
  let run = await nextDocument(tx, 'run', 'RUN');
  while (await isTaken(tx, run)) run = `RUN-${String(Number(run.slice(4)) + 1).padStart(4, '0')}`;
  return run;
}
