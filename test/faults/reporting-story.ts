import { part, signed, type Step } from './step.js';

const report = (action: string, by: Step['by'], body: object, more: Partial<Step> = {}): Step => ({
  route: `POST /api/reports/:report/${action}`,
  by,
  params: (told) => [told['report']!],
  body: () => body,
  ...more,
});

const raise = (what: string, lot: string, pieces: string, keep: string): Step => ({
  route: 'POST /api/reports',
  what,
  by: 'inspector',
  body: () => ({
    source: { kind: 'complaint', code: 'letter 12' },
    requirement: 'DS-4: the lid closes',
    found: 'lids come off',
    defects: [{ defect: 'D-LUMP', count: 3 }],
    severity: 'major',
    parts: [{ lot, pieces }],
  }),
  keep: (answer: { report: string }, told) => void (told[keep] = answer.report),
});

/** A report on cans that were shipped in part: raised, widened, contained, told of and reviewed; and one that was none. */
export const REPORTING: readonly Step[] = [
  raise('about shipped cans', 'F-1', '7-12', 'report'),
  report('parts', 'quality', part({ lot: 'F-1', pieces: '13-14', relation: 'same-lot', affected: true })),
  report('containment', 'quality', signed()),
  report('parts', 'quality', part({ lot: 'F-1', pieces: '15', relation: 'same-lot', affected: true }), { what: 'after containment' }),
  report('consignees/told', 'recall-lead', { customer: 'C-001', channel: 'telephone', what: 'set pieces 7 to 15 aside' }),
  report('consignees/answers', 'recall-lead', { customer: 'C-001', answer: 'all set aside' }),
  report(
    'review',
    'quality',
    signed({ investigate: { needed: true, reason: 'second time' }, inform: { needed: false, reason: 'made here' } }),
  ),
  raise('that was none', 'F-2', '20', 'no report'),
  report('withdrawal', 'quality', signed(), { params: (told) => [told['no report']!] }),
];
