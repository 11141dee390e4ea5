import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { LATEST } from '../holds/holds.query.js';
import type { Conclusion } from './instrument.facts.js';
import type { InstrumentQuestionView } from './instruments.dto.js';
import { judgedCounts } from './judged.query.js';
import { doubtBefore } from './known-good.decide.js';
import { standingCalibrations } from './known-good.query.js';
import type { QuestionState } from './question.decide.js';

export async function questionState(tx: EntityManager, calibration: string): Promise<QuestionState | undefined> {
  const [row] = await queryRows<{ instrument: string; answered_seq: number | null; dropped_seq: number | null }>(
    tx,
    'SELECT "instrument", "answered_seq", "dropped_seq" FROM "instrument_question" WHERE "calibration" = ?',
    [calibration],
  );
  return row && { instrument: row.instrument, answeredSeq: row.answered_seq, droppedSeq: row.dropped_seq };
}

interface QuestionRow {
  calibration: string;
  instrument: string;
  calibrated_at: string;
  opened_seq: number;
  opened_at: string;
  answered_seq: number | null;
  answered_at: string | null;
  answered_by: string | null;
  conclusion: Conclusion | null;
  reason: string | null;
  dropped_seq: number | null;
}

const QUESTIONS = `SELECT q.*, c."calibrated_at", o."at" AS "opened_at", a."at" AS "answered_at", a."actor" AS "answered_by"
  FROM "instrument_question" q JOIN "calibration" c ON c."code" = q."calibration" JOIN "ledger_entry" o ON o."seq" = q."opened_seq"
  LEFT JOIN "ledger_entry" a ON a."seq" = q."answered_seq"`;

/** Questions that wait for an answer, the oldest first. */
export async function openQuestions(from: EntityManager): Promise<InstrumentQuestionView[]> {
  return viewsOf(
    from,
    await queryRows<QuestionRow>(from, `${QUESTIONS} WHERE q."answered_seq" IS NULL AND q."dropped_seq" IS NULL ORDER BY q."opened_seq"`),
  );
}

/** Every question about an instrument, the newest first. */
export async function questionsAbout(from: EntityManager, instrument: string): Promise<InstrumentQuestionView[]> {
  return viewsOf(
    from,
    await queryRows<QuestionRow>(from, `${QUESTIONS} WHERE q."instrument" = ? ORDER BY q."opened_seq" DESC`, [instrument]),
  );
}

/** The question a calibration opened; undefined if it opened none. */
export async function questionOf(from: EntityManager, calibration: string): Promise<InstrumentQuestionView | undefined> {
  return (await viewsOf(from, await queryRows<QuestionRow>(from, `${QUESTIONS} WHERE q."calibration" = ?`, [calibration])))[0];
}

/** The time asked about is worked out anew: a calibration recorded late or put right since may have moved its start. */
async function viewsOf(from: EntityManager, rows: readonly QuestionRow[]): Promise<InstrumentQuestionView[]> {
  const views: InstrumentQuestionView[] = [];
  for (const row of rows) {
    const dropped = row.dropped_seq !== null;
    const calibrations = await standingCalibrations(from, row.instrument, dropped ? row.dropped_seq! - 1 : LATEST);
    const time = doubtBefore(calibrations, row.calibration);
    views.push({
      calibration: row.calibration,
      instrument: row.instrument,
      state: dropped ? 'dropped' : row.answered_seq === null ? 'open' : 'answered',
      openedSeq: row.opened_seq,
      openedAt: row.opened_at,
      time,
      ...(await judgedCounts(from, row.instrument, time)),
      conclusion: row.conclusion,
      reason: row.reason,
      answeredSeq: row.answered_seq,
      answeredAt: row.answered_at,
      answeredBy: row.answered_by,
    });
  }
  return views;
}

/** Calibrations whose question is open, by instrument. */
export async function openQuestionsByInstrument(from: EntityManager): Promise<Map<string, string[]>> {
  const rows = await queryRows<{ instrument: string; calibration: string }>(
    from,
    'SELECT "instrument", "calibration" FROM "instrument_question" WHERE "answered_seq" IS NULL AND "dropped_seq" IS NULL ORDER BY "opened_seq"',
  );
  const open = new Map<string, string[]>();
  for (const { instrument, calibration } of rows) open.set(instrument, [...(open.get(instrument) ?? []), calibration]);
  return open;
}
