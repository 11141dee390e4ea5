import type { Reason, Reasons } from '../../../../shared/refusal.js';
import type { InstrumentState, LastCalibration } from './instrument-state.facts.js';

/** What the state of an instrument at a moment rests on. */
export interface InstrumentThen {
  readonly instrument: string;
  /** How it stood in the register; null if it is not in it. */
  readonly use: 'in-use' | 'withdrawn' | null;
  /** The last calibration up to that moment that was not recorded in error. */
  readonly last: LastCalibration | null;
}

/**
 * Whether an instrument may be used at a moment, and if not, why: it is unknown, withdrawn, was never calibrated, failed its last
 * calibration, or is past the day it was due.
 * @param at ISO 8601 UTC instant of use; the whole of the due day counts as in time
 * @see docs/rules/instruments.md I-3
 */
export function instrumentStateAt({ instrument, use, last }: InstrumentThen, at: string): InstrumentState {
  const why = faultOf(instrument, use, last, at);
  return { instrument, known: use !== null, usable: why === null, why, dueOn: last?.dueOn ?? null, lastCalibration: last };
}

function faultOf(instrument: string, use: InstrumentThen['use'], last: LastCalibration | null, at: string): Reason | null {
  if (use === null) return { code: 'instrument-unknown', detail: `no instrument ${instrument}`, instrument };
  if (use === 'withdrawn') return { code: 'instrument-withdrawn', detail: `${instrument} is withdrawn from use`, instrument };
  if (!last) return { code: 'instrument-not-calibrated', detail: `${instrument} had not been calibrated at ${at}`, instrument };
  const { calibration, result, dueOn } = last;
  if (result === 'failed') {
    return { code: 'calibration-failed', detail: `${instrument} failed its last calibration, ${calibration}`, instrument, calibration };
  }
  if (dueOn !== null && dueOn < at.slice(0, 10)) {
    return { code: 'calibration-overdue', detail: `${instrument} was due for calibration on ${dueOn}`, instrument, calibration, dueOn };
  }
  return null;
}

/**
 * Adds why an instrument may not be used; nothing when it may.
 * @param pointer JSON pointer to the field that names it
 * @see docs/rules/instruments.md I-3
 */
export function checkInstrument(no: Reasons, state: InstrumentState, pointer: string): void {
  if (state.why === null) return;
  const { code, detail, ...facts } = state.why;
  if (state.known) no.conflict(code, detail, { ...facts, pointer });
  else no.unknown(code, detail, { ...facts, pointer });
}
