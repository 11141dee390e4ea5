import type { EntityManager } from 'typeorm';
import { queryRows } from '../../platform/database/rows.js';
import { LATEST } from '../holds/holds.query.js';
import type { Conclusion, LookedAt } from './instrument.facts.js';
import type { InstrumentQuestionView } from './instruments.dto.js';
import { countJudged, countUnseen } from './judged.query.js';
import { doubtBefore } from './known-good.decide.js';
import { standingCalibrations } from './known-good.query.js';
import { type QuestionState, standingOf } from './question.decide.js';

interface QuestionRow {
  calibration: string;
  instrument: string;
  voided_seq: number | null;
  opened_seq: number;
  opened_at: string;
  answered_seq: number | null;
  answered_at: string | null;
  answered_by: string | null;
  conclusion: Conclusion | null;
  looked_at: string | null;
  reason: string | null;
  dropped_seq: number | null;
}

const QUESTIONS = `SELECT q.*, c."voided_seq", o."at" AS "opened_at", a."at" AS "answered_at", a."actor" AS "answered_by"
  FROM "instrument_question" q JOIN "calibration" c ON c."code" = q."calibration" JOIN "ledger_entry" o ON o."seq" = q."opened_seq"
  LEFT JOIN "ledger_entry" a ON a."seq" = q."answered_seq"`;

const questionRow = async (from: EntityManager, calibration: string): Promise<QuestionRow | undefined> =>
  (await queryRows<QuestionRow>(from, `${QUESTIONS} WHERE q."calibration" = ?`, [calibration]))[0];

export async function questionState(tx: EntityManager, calibration: string): Promise<QuestionState | undefined> {
  const row = await questionRow(tx, calibration);
  return row && stateOf(tx, row);
}

/** The question a calibration opened; undefined if it opened none. */
export async function questionOf(from: EntityManager, calibration: string): Promise<InstrumentQuestionView | undefined> {
  const row = await questionRow(from, calibration);
  return row && viewOf(from, row);
}

/** Every question about an instrument, the newest first. */
export async function questionsAbout(from: EntityManager, instrument: string): Promise<InstrumentQuestionView[]> {
  const views: InstrumentQuestionView[] = [];
  for (const row of await queryRows<QuestionRow>(from, `${QUESTIONS} WHERE q."instrument" = ? ORDER BY q."opened_seq" DESC`, [
    instrument,
  ])) {
    views.push(await viewOf(from, row));
  }
  return views;
}

/** Questions that wait for an answer, the oldest first. */
export async function openQuestions(from: EntityManager): Promise<InstrumentQuestionView[]> {
  const views: InstrumentQuestionView[] = [];
  for (const row of await queryRows<QuestionRow>(from, `${QUESTIONS} WHERE q."dropped_seq" IS NULL ORDER BY q."opened_seq"`)) {
    const view = await viewOf(from, row);
    if (waits(view)) views.push(view);
  }
  return views;
}

/** Whether somebody has to answer it. */
export const waits = ({ state }: InstrumentQuestionView): boolean => state === 'open' || state === 'grown';

/** Worked out anew each time: a result or another calibration, recorded late or put right since, may have changed what is in doubt. */
async function stateOf(from: EntityManager, row: QuestionRow): Promise<QuestionState> {
  // What a calibration recorded in error asked about is what it was when it still stood.
  const calibrations = await standingCalibrations(from, row.instrument, row.voided_seq === null ? LATEST : row.voided_seq - 1);
  const time = doubtBefore(calibrations, row.calibration);
  const inDoubt = { ...(await countJudged(from, row.instrument, time)), time };
  const seen = row.looked_at === null ? null : { ...(JSON.parse(row.looked_at) as LookedAt), seq: row.answered_seq! };
  return {
    instrument: row.instrument,
    answeredSeq: row.answered_seq,
    droppedSeq: row.dropped_seq,
    inDoubt,
    unseen: seen === null ? inDoubt.results : await countUnseen(from, row.instrument, time, seen),
  };
}

async function viewOf(from: EntityManager, row: QuestionRow): Promise<InstrumentQuestionView> {
  const state = await stateOf(from, row);
  return {
    calibration: row.calibration,
    instrument: row.instrument,
    state: standingOf(state),
    openedSeq: row.opened_seq,
    openedAt: row.opened_at,
    ...state.inDoubt,
    conclusion: row.conclusion,
    reason: row.reason,
    answeredResults: row.looked_at === null ? null : (JSON.parse(row.looked_at) as LookedAt).results,
    unseen: state.unseen,
    answeredSeq: row.answered_seq,
    answeredAt: row.answered_at,
    answeredBy: row.answered_by,
  };
}
