import type { EntityManager } from 'typeorm';
import { queryRows } from '../platform/database/rows.js';
import { Verification } from './verification.entity.js';
import type { VerificationView } from './verification.dto.js';
import type { VerifyReport } from './verify.js';

/** A check whose process has not been heard of for so long has died with it. */
const SILENT_MS = 60_000;

const running = (row: Verification, at: string): boolean => row.endedAt === null && Date.parse(at) - Date.parse(row.aliveAt) < SILENT_MS;

export async function latestRunning(tx: EntityManager, at: string): Promise<Verification | undefined> {
  const rows = await tx.find(Verification, { order: { startedAt: 'DESC', verification: 'DESC' }, take: 20 });
  return rows.find((row) => running(row, at));
}

export const verification = (tx: EntityManager, code: string): Promise<Verification | null> =>
  tx.findOneBy(Verification, { verification: code });

export const latestVerifications = (tx: EntityManager): Promise<Verification[]> =>
  tx.find(Verification, { order: { startedAt: 'DESC', verification: 'DESC' }, take: 50 });

export async function begin(tx: EntityManager, row: Pick<Verification, 'verification' | 'startedBy'>, at: string): Promise<Verification> {
  const begun: Verification = { ...row, startedAt: at, aliveAt: at, step: 'chain', done: 0, of: 0, endedAt: null, report: null };
  await tx.insert(Verification, begun);
  return begun;
}

export const noteProgress = (tx: EntityManager, code: string, at: string, step: string, done: number, of: number): Promise<unknown> =>
  queryRows(tx, 'UPDATE "verification" SET "alive_at" = ?, "step" = ?, "done" = ?, "of" = ? WHERE "code" = ?', [at, step, done, of, code]);

export const end = (tx: EntityManager, code: string, at: string, report: VerifyReport | null): Promise<unknown> =>
  queryRows(tx, 'UPDATE "verification" SET "alive_at" = ?, "ended_at" = ?, "report" = ? WHERE "code" = ?', [
    at,
    at,
    report === null ? null : JSON.stringify(report),
    code,
  ]);

export function viewOf(row: Verification, at: string): VerificationView {
  const report = row.report === null ? null : (JSON.parse(row.report) as VerifyReport);
  const state = report === null ? (running(row, at) ? 'running' : 'interrupted') : report.ok ? 'sound' : 'faulty';
  const { verification: code, startedBy, startedAt, step, done, of, endedAt } = row;
  return {
    verification: code,
    startedBy,
    startedAt,
    state,
    step,
    done,
    of,
    endedAt,
    entries: report?.entries ?? null,
    hash: report?.hash ?? null,
    files: report?.files ?? null,
    faults: [...(report?.faults ?? [])],
  };
}
