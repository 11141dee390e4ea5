import { describe, expect, it, test } from 'vitest';
import { Reasons } from '../../../../shared/refusal.js';
import { checkInstrument, instrumentStateAt, type InstrumentThen } from './instrument-state.decide.js';

const good = { calibration: 'CAL-0001', calibratedAt: '2026-01-05T09:00:00.000Z', result: 'in-tolerance', dueOn: '2026-07-04' } as const;
const then = (over: Partial<InstrumentThen> = {}): InstrumentThen => ({ instrument: 'CAL-150', use: 'in-use', last: good, ...over });

describe('the state of an instrument (I-3)', () => {
  test.each([
    ['in calibration', then(), '2026-03-02T08:00:00.000Z', null],
    ['on the last moment of the day it is due', then(), '2026-07-04T23:59:59.999Z', null],
    ['the day after', then(), '2026-07-05T00:00:00.000Z', 'calibration-overdue'],
    ['never calibrated', then({ last: null }), '2026-03-02T08:00:00.000Z', 'instrument-not-calibrated'],
    ['failed', then({ last: { ...good, result: 'failed', dueOn: null } }), '2026-03-02T08:00:00.000Z', 'calibration-failed'],
    ['adjusted', then({ last: { ...good, result: 'adjusted-in-tolerance' } }), '2026-03-02T08:00:00.000Z', null],
    ['withdrawn, although in calibration', then({ use: 'withdrawn' }), '2026-03-02T08:00:00.000Z', 'instrument-withdrawn'],
    ['unknown', then({ use: null, last: null }), '2026-03-02T08:00:00.000Z', 'instrument-unknown'],
  ])('%s', (_case, known, at, code) => {
    const state = instrumentStateAt(known, at);
    expect([state.usable, state.why?.code ?? null]).toEqual([code === null, code]);
  });

  it('is said as a reason with its pointer; an unknown instrument alone is not found', () => {
    const no = new Reasons();
    checkInstrument(no, instrumentStateAt(then(), '2026-03-02T08:00:00.000Z'), '/instrument');
    expect(no.any).toBe(false);
    checkInstrument(no, instrumentStateAt(then({ use: null, last: null }), '2026-03-02T08:00:00.000Z'), '/results/0/instrument');
    expect(no.list).toEqual([
      { code: 'instrument-unknown', detail: 'no instrument CAL-150', instrument: 'CAL-150', pointer: '/results/0/instrument' },
    ]);
    expect(() => no.throwIfAny()).toThrow(expect.objectContaining({ kind: 'unknown' }));
  });

  it('is a conflict where it is known and may not be used', () => {
    const no = new Reasons();
    checkInstrument(no, instrumentStateAt(then(), '2026-08-01T08:00:00.000Z'), '/instrument');
    expect(() => no.throwIfAny()).toThrow(expect.objectContaining({ kind: 'conflict' }));
    expect(no.list[0]).toMatchObject({ code: 'calibration-overdue', dueOn: '2026-07-04', calibration: 'CAL-0001' });
  });
});
