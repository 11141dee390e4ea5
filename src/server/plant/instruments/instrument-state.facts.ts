import type { Reason } from '../../../../shared/refusal.js';
import type { CalibrationResult } from './instrument.facts.js';

/** A calibration that counts, as far as it decides whether an instrument may be used. */
export interface LastCalibration {
  readonly calibration: string;
  readonly calibratedAt: string;
  readonly result: CalibrationResult;
  /** Last day on which the instrument may be used; null after one that failed. */
  readonly dueOn: string | null;
}

/** An instrument at a moment, as a result that names it sees it. */
export interface InstrumentState {
  readonly instrument: string;
  readonly known: boolean;
  readonly usable: boolean;
  /** Why it may not be used; null when it may. */
  readonly why: Reason | null;
  /** Last day on which it may be used, by the last calibration up to that moment; null where there is none. */
  readonly dueOn: string | null;
  readonly lastCalibration: LastCalibration | null;
}
