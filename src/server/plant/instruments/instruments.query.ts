import type { EntityManager } from 'typeorm';
import type { Instrument, Revised } from '../catalogue/catalogue.facts.js';
import { catalogueByCode, catalogueOf } from '../catalogue/catalogue.query.js';
import { calibrationsOf } from './calibrations.query.js';
import type { InstrumentState } from './instrument-state.facts.js';
import { instrumentStates } from './instrument-state.query.js';
import type { InstrumentCardView, InstrumentQuestionView, InstrumentStateView } from './instruments.dto.js';
import { openQuestions, questionsAbout, waits } from './questions.query.js';

/**
 * Every instrument as it stands at an instant: those in use before those withdrawn; among them the ones that no calibration lets be used,
 * then by the day they are due, then by code.
 */
export async function instrumentList(from: EntityManager, at: string): Promise<InstrumentStateView[]> {
  const records = await catalogueOf(from, 'instrument');
  const states = await instrumentStates(
    from,
    records.map(({ code }) => code),
    at,
  );
  const questions = await openQuestions(from);
  const key = (view: InstrumentStateView): string => `${view.use === 'withdrawn' ? 1 : 0}${view.dueOn ?? ''.padEnd(10)}${view.code}`;
  return records
    .map((record) => stateView(record, states.get(record.code)!, asked(questions, record.code)))
    .toSorted((a, b) => (key(a) < key(b) ? -1 : 1));
}

/** One instrument with its calibrations and questions; undefined for one the register does not know. */
export async function instrumentCard(from: EntityManager, instrument: string, at: string): Promise<InstrumentCardView | undefined> {
  const record = (await catalogueByCode(from, 'instrument', [instrument])).get(instrument);
  if (!record) return undefined;
  const questions = await questionsAbout(from, instrument);
  const state = (await instrumentStates(from, [instrument], at)).get(instrument)!;
  return {
    ...stateView(record, state, asked(questions.filter(waits).toReversed(), instrument)),
    calibrations: await calibrationsOf(from, instrument),
    questions,
  };
}

const asked = (questions: readonly InstrumentQuestionView[], instrument: string): string[] =>
  questions.filter((one) => one.instrument === instrument).map((one) => one.calibration);

function stateView(record: Revised<Instrument>, state: InstrumentState, waiting: string[]): InstrumentStateView {
  const { why, usable, dueOn, lastCalibration } = state;
  return {
    code: record.code,
    revision: record.revision,
    name: record.name,
    kind: record.kind,
    serial: record.serial ?? null,
    resolution: record.resolution ?? null,
    intervalDays: record.intervalDays,
    use: record.use,
    usable,
    why: why && { code: why.code, detail: why.detail },
    dueOn,
    lastCalibration: lastCalibration?.calibration ?? null,
    lastCalibratedAt: lastCalibration?.calibratedAt ?? null,
    openQuestions: waiting,
  };
}
