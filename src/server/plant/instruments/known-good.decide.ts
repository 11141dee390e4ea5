import type { AsFound, CalibrationResult, DoubtfulTime } from './instrument.facts.js';

/** A calibration that stands, as far as it says what results were worth. */
export interface CalibrationThen {
  readonly calibration: string;
  readonly calibratedAt: string;
  readonly asFound: AsFound;
  readonly result: CalibrationResult;
}

/** Whether a calibration leaves it open what its instrument has judged. @see docs/rules/instruments.md I-10 */
export const raisesDoubt = ({ asFound, result }: Pick<CalibrationThen, 'asFound' | 'result'>): boolean =>
  asFound === 'out-of-tolerance' || result === 'failed';

const leftGood = ({ result }: CalibrationThen): boolean => result !== 'failed';
/** It was good at that moment if it was found good, or left good. */
const knownGood = (one: CalibrationThen): boolean => one.asFound === 'in-tolerance' || leftGood(one);

/**
 * The time from when an instrument was last known good until a calibration; after one that failed until the next that left it good, since
 * it may have been used before anybody recorded that it failed.
 * @param calibrations those of the instrument that stand, oldest first
 * @param calibration one of them
 * @throws Error if it is none of them
 * @see docs/rules/instruments.md I-10
 */
export function doubtBefore(calibrations: readonly CalibrationThen[], calibration: string): DoubtfulTime {
  const at = calibrations.findIndex((one) => one.calibration === calibration);
  const one = calibrations[at];
  if (!one) throw new Error(`${calibration} does not stand`);
  if (leftGood(one)) return between(calibrations.slice(0, at).findLast(knownGood), one);
  const good = calibrations.slice(0, at + 1).findLast(knownGood);
  return between(good, calibrations.slice(at + 1).find(leftGood));
}

/**
 * The time to ask about where nobody names a calibration: that which the latest one puts in doubt, else that from when the instrument was last known good until now.
 * @see docs/rules/instruments.md I-10, docs/rules/trace.md T-14
 */
export function doubtNow(calibrations: readonly CalibrationThen[]): DoubtfulTime {
  const latest = calibrations.at(-1);
  if (latest && raisesDoubt(latest)) return doubtBefore(calibrations, latest.calibration);
  return between(calibrations.findLast(knownGood), undefined);
}

/**
 * The time in which results rested on a calibration that turned out to be an error: until the next one that stands.
 * @param wrong when that calibration was said to have been made
 * @see docs/rules/instruments.md I-9
 */
export function restedOn(calibrations: readonly CalibrationThen[], wrong: CalibrationThen): DoubtfulTime {
  return between(
    wrong,
    calibrations.find((one) => one.calibratedAt > wrong.calibratedAt),
  );
}

const between = (first: CalibrationThen | undefined, last: CalibrationThen | undefined): DoubtfulTime => ({
  since: first?.calibration ?? null,
  until: last?.calibration ?? null,
  from: first?.calibratedAt ?? null,
  to: last?.calibratedAt ?? null,
});
