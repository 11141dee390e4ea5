import { part, signed, type Step } from './step.js';

const delivery = (document: string, keep: Step['keep'], what: string): Step => ({
  route: 'POST /api/deliveries',
  what,
  by: 'clerk',
  body: () => ({
    supplier: 'S-WAX',
    documentType: 'delivery note',
    document,
    location: 'DOCK',
    condition: 'sound',
    lines: [{ item: 'GREASE', quantity: '100', containers: 8 }],
  }),
  keep,
});

const inspection = (action: string, body: object, more: Partial<Step> = {}): Step => ({
  route: `POST /api/inspections/:inspection/${action}`,
  by: 'inspector',
  params: () => ['IN-0001'],
  body: () => body,
  ...more,
});

const drop = (value: string, more: object = {}) => ({ characteristic: 'DROP', readings: [{ value }], ...more });

/** The first lot of what has a plan is inspected to the end and asked for again; the second never came. */
export const INSPECTING: readonly Step[] = [
  delivery(
    'DN-GREASE',
    (answer: { lines: { lot: string }[] }, told) => void (told['grease'] = answer.lines[0]!.lot),
    'with something to inspect',
  ),
  inspection('urgency', part({}), { by: 'operator' }),
  inspection('begin', {}),
  inspection('tallies', { conforming: 7, items: [{ found: [{ defect: 'D-LUMP' }], note: 'lid was open' }] }),
  {
    route: 'POST /api/inspections/:inspection/tallies/:tally/taken-back',
    by: 'inspector',
    params: () => ['IN-0001', '1'],
    body: () => part({}),
  },
  inspection('tallies', { conforming: 8 }, { what: 'again' }),
  inspection('results', drop('149')),
  inspection('results', drop('162', { retestOf: 1, reason: 'bath too cold' }), { what: 'a retest' }),
  inspection('verdict', {}),
  {
    route: 'POST /api/inspections',
    what: 'in error',
    by: 'quality',
    body: ({ grease }) => part({ lot: grease }),
    keep: (answer: { inspection: string }, told) => void (told['asked in error'] = answer.inspection),
  },
  {
    route: 'POST /api/inspections/:inspection/calling-off',
    by: 'quality',
    params: (told) => [told['asked in error']!],
    body: () => part({}),
  },
  {
    route: 'POST /api/inspections',
    by: 'quality',
    body: ({ grease }) => part({ lot: grease }),
    keep: (answer: { inspection: string }, told) => void (told['asked'] = answer.inspection),
  },
  { route: 'POST /api/inspections/:inspection/skip', by: 'quality', params: (told) => [told['asked']!], body: () => signed() },
  {
    route: 'POST /api/switching/decisions',
    by: 'quality',
    body: () => signed({ item: 'GREASE', supplier: 'S-WAX', decision: 'production-steady' }),
  },
  delivery('DN-NEVER', (answer: { delivery: string }, told) => void (told['never came'] = answer.delivery), 'that never came'),
  {
    route: 'POST /api/deliveries/:delivery/reversal',
    what: 'of what waits to be inspected',
    by: 'clerk',
    params: (told) => [told['never came']!],
    body: () => part({}),
  },
];
