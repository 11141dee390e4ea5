import { describe, expect, it, test } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { Refusal } from '../../../../shared/refusal.js';
import { type CalibrateInstrument, type CalibrationState, decideCalibration, decideVoid } from './calibration.decide.js';

const state = (over: Partial<CalibrationState> = {}): CalibrationState => ({
  at: '2026-03-02T12:00:00.000Z',
  calibration: 'CAL-0007',
  instrument: { code: 'CALI-1', revision: 1, name: 'Calliper', kind: 'calliper', intervalDays: 180, use: 'in-use' },
  sameMoment: null,
  certificateStored: true,
  ...over,
});
const command = (over: Partial<CalibrateInstrument> = {}): CalibrateInstrument => ({
  instrument: 'CALI-1',
  calibratedAt: '2026-03-02T09:00:00.000Z',
  asFound: 'in-tolerance',
  result: 'in-tolerance',
  calibratedBy: 'Invented Metrology',
  ...over,
});
const micro = (millimetres: number): number => Math.round(millimetres * MICRO);
const reading = (nominal: number, found: number, tolerance: number) => ({
  nominalMicro: micro(nominal),
  foundMicro: micro(found),
  toleranceMicro: micro(tolerance),
});

const reasonsOf = (run: () => unknown): string[] => {
  try {
    run();
  } catch (error) {
    return (error as Refusal).reasons.map(({ code, pointer }) => (pointer === undefined ? code : `${code} ${pointer as string}`));
  }
  return [];
};

describe('recording a calibration', () => {
  it('is due after the interval of the register, the whole of that day (I-4)', () => {
    const facts = decideCalibration(command(), state());
    expect(facts).toEqual([expect.objectContaining({ kind: 'InstrumentCalibrated', calibration: 'CAL-0007', dueOn: '2026-08-29' })]);
  });

  test.each([
    ['earlier than the interval (I-4)', { dueOn: '2026-06-30' }, []],
    ['on the day of calibration, for one use', { dueOn: '2026-03-02' }, []],
    ['later than the interval (I-4)', { dueOn: '2026-08-30' }, ['due-too-late /dueOn']],
    ['before it was calibrated', { dueOn: '2026-03-01' }, ['due-before /dueOn']],
    ['although it failed (I-6)', { asFound: 'out-of-tolerance', result: 'failed', dueOn: '2026-06-30' }, ['no-due-day /dueOn']],
  ] as const)('due %s', (_case, over, reasons) => {
    expect(reasonsOf(() => decideCalibration(command(over), state()))).toEqual(reasons);
  });

  test.each([
    ['within, on the edge of it', 'in-tolerance', [reading(25, 25.02, 0.02), reading(25, 24.98, 0.02)], []],
    [
      'a millionth outside, called in tolerance',
      'in-tolerance',
      [reading(25, 25, 0.02), reading(25, 25.020001, 0.02)],
      ['reading-outside /readings/1'],
    ],
    ['outside, called out of tolerance', 'out-of-tolerance', [reading(25, 25.03, 0.02)], []],
    ['below, with a negative nominal', 'in-tolerance', [reading(-10, -10.3, 0.2)], ['reading-outside /readings/0']],
    ['all within: a person may be stricter', 'out-of-tolerance', [reading(25, 25, 0.02)], []],
    ['a tolerance below nothing', 'in-tolerance', [reading(25, 25, -0.02)], ['tolerance-negative /readings/0/tolerance']],
  ] as const)('readings %s (I-5)', (_case, asFound, readings, reasons) => {
    const asked = command({ asFound, result: 'adjusted-in-tolerance', readings });
    expect(reasonsOf(() => decideCalibration(asked, state()))).toEqual(reasons);
  });

  it('says of each reading whether it passed (I-5)', () => {
    const readings = [reading(25, 25.03, 0.02), reading(50, 50.01, 0.02)];
    const [fact] = decideCalibration(command({ asFound: 'out-of-tolerance', result: 'failed', readings }), state());
    expect(fact.readings?.map(({ pass }) => pass)).toEqual([false, true]);
    expect(fact.dueOn).toBeNull();
  });

  it('opens the question what it judged, when found out of tolerance (I-11)', () => {
    const facts = decideCalibration(command({ asFound: 'out-of-tolerance', result: 'adjusted-in-tolerance' }), state());
    expect(facts[1]).toEqual({ kind: 'InstrumentQuestioned', v: 1, calibration: 'CAL-0007', instrument: 'CALI-1' });
  });

  it('is refused with every reason at once', () => {
    const asked = command({ asFound: 'out-of-tolerance', calibratedAt: '2026-03-02T13:00:00.000Z', certificateFile: 'ab' });
    const against = state({ instrument: undefined, sameMoment: 'CAL-0001', certificateStored: false });
    expect(reasonsOf(() => decideCalibration(asked, against))).toEqual([
      'instrument-unknown',
      'not-yet /calibratedAt',
      'calibration-recorded /calibratedAt',
      'not-adjusted /result',
      'file-unknown /certificateFile',
    ]);
  });
});

describe('a calibration recorded in error (I-9)', () => {
  it('is named by the entry that puts it right', () => {
    const standing = { calibration: 'CAL-0007', instrument: 'CALI-1', recordedSeq: 12, voidedSeq: null };
    expect(decideVoid({ calibration: 'CAL-0007', reason: 'another calliper' }, standing)).toMatchObject({
      corrects: 12,
      instrument: 'CALI-1',
    });
    expect(reasonsOf(() => decideVoid({ calibration: 'CAL-0007', reason: 'x' }, { ...standing, voidedSeq: 14 }))).toEqual([
      'corrected-before',
    ]);
    expect(reasonsOf(() => decideVoid({ calibration: 'CAL-0009', reason: 'x' }, undefined))).toEqual(['calibration-unknown']);
  });
});
