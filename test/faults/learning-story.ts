import { signed, type Step } from './step.js';

const learn = (action: string, by: Step['by'], body: object, more: Partial<Step> = {}): Step => ({
  route: `POST /api/reports/:report/${action}`,
  by,
  params: (told) => [told['lumps']!],
  body: () => body,
  ...more,
});

const done = (action: string, body: object, what: string): Step => ({
  route: 'POST /api/reports/:report/actions/:action/done',
  what,
  by: 'operator',
  params: (told) => [told['lumps']!, action],
  body: () => body,
});

const FORTY_DAYS = 40 * 24 * 60;

/** The lumps came again: a report that was opened once more is closed by a check that found the cause gone. */
export const LEARNING: readonly Step[] = [
  learn('cause', 'inspector', {
    whys: ['lumps', 'filled too cold', 'nobody reads the thermometer'],
    categories: ['method', 'people'],
    conclusion: 'the instruction does not name a temperature',
  }),
  learn('actions', 'quality', { kind: 'corrective', what: 'name it', owner: 'operator-1', dueOn: '2027-03-01' }),
  done('1', { evidence: 'instruction 14 names 62 °C' }, 'corrective'),
  learn('effectiveness', 'quality', { criterion: 'no lumps in ten fillings', checkOn: '2026-04-01' }),
  learn('effectiveness/check', 'quality', signed({ effective: false, harm: 'none', evidence: 'lumps in the second' }), {
    what: 'that failed',
  }),
  learn('actions', 'inspector', { kind: 'corrective', what: 'interlock', owner: 'operator-1', dueOn: '2027-03-01' }, { what: 'the next' }),
  done('2', { evidence: 'valve opens at 62 °C only' }, 'the next'),
  learn('effectiveness', 'quality', { criterion: 'no lumps in ten fillings', checkOn: '2026-04-02' }, { what: 'the next' }),
  learn('effectiveness/check', 'quality', signed({ effective: true, harm: 'none', evidence: 'ten fillings, none' }), {
    what: 'that closes the report',
    after: FORTY_DAYS,
  }),
  learn('costs', 'administrator', { disposition: 4, kind: 'material', minor: 1234 }),
];
