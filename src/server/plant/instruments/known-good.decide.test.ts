import { describe, expect, it, test } from 'vitest';
import { type CalibrationThen, doubtBefore, doubtNow, restedOn } from './known-good.decide.js';

const LETTERS = {
  g: { asFound: 'in-tolerance', result: 'in-tolerance' },
  a: { asFound: 'out-of-tolerance', result: 'adjusted-in-tolerance' },
  f: { asFound: 'out-of-tolerance', result: 'failed' },
  d: { asFound: 'in-tolerance', result: 'failed' },
} as const;

/** `ga`: found good, then found out of tolerance and adjusted. The calibrations are numbered from 1, a month apart. */
const history = (letters: string): CalibrationThen[] =>
  [...letters].map((letter, i) => ({
    calibration: `CAL-${i + 1}`,
    calibratedAt: `2026-0${i + 1}-01T08:00:00.000Z`,
    ...LETTERS[letter as keyof typeof LETTERS],
  }));

describe('the time in which nobody can vouch for an instrument (I-10)', () => {
  test.each([
    ['from the good one before', 'ga', 'CAL-2', 'CAL-1'],
    ['from the one that left it good after adjustment', 'gaa', 'CAL-3', 'CAL-2'],
    ['further back than one that did not bring it into tolerance', 'gfa', 'CAL-3', 'CAL-1'],
    ['from one that found it good and broke it', 'gda', 'CAL-3', 'CAL-2'],
    ['from its first result, when it never was known good', 'a', 'CAL-1', null],
    ['from its first result, when it only ever failed', 'ffa', 'CAL-3', null],
    ['before an older one that is asked about', 'gagg', 'CAL-2', 'CAL-1'],
  ])('%s: %s', (_case, letters, calibration, since) => {
    const doubt = doubtBefore(history(letters), calibration);
    expect([doubt.since, doubt.until]).toEqual([since, calibration]);
    expect(doubt.to).toBe(history(letters).find((one) => one.calibration === calibration)!.calibratedAt);
  });

  test.each([
    ['until the next that left it good', 'gfa', 'CAL-2', 'CAL-1', 'CAL-3'],
    ['until now, when none did', 'gff', 'CAL-2', 'CAL-1', null],
    ['from itself, when it was found good and broke', 'gdg', 'CAL-2', 'CAL-2', 'CAL-3'],
  ])('after one that failed: %s', (_case, letters, calibration, since, until) => {
    expect(doubtBefore(history(letters), calibration)).toMatchObject({ since, until });
  });

  test.each([
    ['since the last good one, until now', 'gg', 'CAL-2', null],
    ['before the latest, which found it out', 'gga', 'CAL-2', 'CAL-3'],
    ['since the latest, which broke it', 'ggd', 'CAL-3', null],
    ['since the last good one, though it was found out before', 'gag', 'CAL-3', null],
    ['all of it, when it was never calibrated', '', null, null],
  ])('asked without a calibration: %s', (_case, letters, since, until) => {
    expect(doubtNow(history(letters))).toMatchObject({ since, until });
  });

  it('rested on a calibration recorded in error until the next one that stands (I-9)', () => {
    const [one, wrong, next] = history('ggg') as [CalibrationThen, CalibrationThen, CalibrationThen];
    expect(restedOn([one, next], wrong)).toMatchObject({ from: wrong.calibratedAt, to: next.calibratedAt, until: 'CAL-3' });
    expect(restedOn([one], wrong)).toMatchObject({ from: wrong.calibratedAt, to: null });
  });
});
