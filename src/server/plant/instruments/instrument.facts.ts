import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';

export const AS_FOUND = ['in-tolerance', 'out-of-tolerance'] as const;
export type AsFound = (typeof AS_FOUND)[number];

export const RESULTS = ['in-tolerance', 'adjusted-in-tolerance', 'failed'] as const;
export type CalibrationResult = (typeof RESULTS)[number];

/** One point of a calibration as it was found, in millionths of the instrument's own unit. */
export interface Reading {
  readonly nominalMicro: number;
  readonly foundMicro: number;
  /** Largest difference from the nominal, either way. */
  readonly toleranceMicro: number;
  readonly pass: boolean;
}

/** An instrument was compared with a reference, by our own people or a laboratory. */
export type InstrumentCalibrated = PlantFact & {
  readonly kind: 'InstrumentCalibrated';
  readonly v: 1;
  readonly calibration: string;
  readonly instrument: string;
  readonly calibratedAt: string;
  /** How it arrived: what its results since the calibration before are worth. */
  readonly asFound: AsFound;
  /** How it was left. */
  readonly result: CalibrationResult;
  /** Last day on which it may be used; null after a calibration that failed. */
  readonly dueOn: string | null;
  /** The laboratory, or the person. */
  readonly calibratedBy: string;
  /** SHA-256 of the certificate, in hexadecimal. */
  readonly certificateFile?: string | undefined;
  readonly note?: string | undefined;
  readonly readings?: readonly Reading[] | undefined;
};

/** A calibration was recorded in error: it counts for nothing from now on. Both entries stay readable. */
export type CalibrationVoided = PlantFact & {
  readonly kind: 'CalibrationVoided';
  readonly v: 1;
  readonly calibration: string;
  readonly instrument: string;
  /** Ledger entry that is put right. */
  readonly corrects: number;
  readonly reason: string;
};

/** An instrument was found or left out of tolerance: what did it judge since it was last known good? */
export type InstrumentQuestioned = PlantFact & {
  readonly kind: 'InstrumentQuestioned';
  readonly v: 1;
  /** The calibration that asks. */
  readonly calibration: string;
  readonly instrument: string;
};

/** The time in which nobody can vouch for an instrument. */
export interface DoubtfulTime {
  /** The calibration that it starts from; null: it was never known good. */
  readonly since: string | null;
  /** The calibration that it ends with; null: it goes on. */
  readonly until: string | null;
  /** ISO 8601 UTC instants, both within; null: from its first result, to its last. */
  readonly from: string | null;
  readonly to: string | null;
}

/** What was in doubt when somebody looked: results and lots, and the time the results were taken in. */
export interface LookedAt {
  readonly results: number;
  readonly lots: number;
  readonly time: DoubtfulTime;
}

export const CONCLUSIONS = ['no-effect', 'contained'] as const;
export type Conclusion = (typeof CONCLUSIONS)[number];

/** Quality has looked at everything the instrument judged, and answers the question. */
export type InstrumentQuestionAnswered = PlantFact & {
  readonly kind: 'InstrumentQuestionAnswered';
  readonly v: 1;
  readonly calibration: string;
  readonly instrument: string;
  /** Whether what it judged still stands (`no-effect`), or was held, inspected again or recalled (`contained`). */
  readonly conclusion: Conclusion;
  readonly lookedAt: LookedAt;
  readonly reason: string;
  readonly signature: Signature;
};
