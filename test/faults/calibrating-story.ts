import { signed, part, type Step } from './step.js';

const calibrate = (what: string, body: object, keep?: Step['keep']): Step => ({
  route: 'POST /api/instruments/:instrument/calibrations',
  what,
  by: 'inspector',
  params: () => ['CALI-9'],
  body: () => ({ calibratedBy: 'our own gauge blocks', ...body }),
  keep,
});

/** A calliper comes into use, is found out of tolerance, and what it judged is answered for; another calibration was written down wrongly. */
export const CALIBRATING: readonly Step[] = [
  {
    route: 'POST /api/instruments',
    by: 'quality',
    body: () => ({ code: 'CALI-9', name: 'Calliper 150 mm', kind: 'calliper', resolution: '0.01 mm', intervalDays: 180, use: 'in-use' }),
  },
  calibrate('found good', { calibratedAt: '2026-01-05T09:00:00Z', asFound: 'in-tolerance', result: 'in-tolerance' }),
  calibrate(
    'found out of tolerance',
    {
      calibratedAt: '2026-02-05T09:00:00Z',
      asFound: 'out-of-tolerance',
      result: 'adjusted-in-tolerance',
      readings: [{ nominal: '25', found: '25.04', tolerance: '0.02' }],
    },
    (answer: { calibration: string }, told) => void (told['calibration'] = answer.calibration),
  ),
  calibrate(
    'that was of another',
    { calibratedAt: '2026-02-06T09:00:00Z', asFound: 'out-of-tolerance', result: 'failed' },
    (answer: { calibration: string }, told) => void (told['wrong calibration'] = answer.calibration),
  ),
  {
    route: 'POST /api/calibrations/:calibration/reversal',
    by: 'quality',
    params: (told) => [told['wrong calibration']!],
    body: () => part({}),
  },
  {
    route: 'POST /api/instruments/questions/:calibration/answer',
    by: 'quality',
    params: (told) => [told['calibration']!],
    body: () => signed({ conclusion: 'no-effect' }),
  },
];
