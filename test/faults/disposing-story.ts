import { PASSWORD } from '../persons.js';
import { part, signed, type Step, type Told } from './step.js';

const GREASE: Step = {
  route: 'POST /api/deliveries',
  what: 'of which something becomes',
  by: 'clerk',
  body: () => ({
    supplier: 'S-WAX',
    documentType: 'delivery note',
    document: 'DN-LUMPS',
    location: 'DOCK',
    condition: 'sound',
    lines: [{ item: 'GREASE', quantity: '100', containers: 8 }],
  }),
  keep: (answer: { lines: { lot: string }[] }, told) => void (told['lumpy'] = answer.lines[0]!.lot),
};

const RAISE: Step = {
  route: 'POST /api/reports',
  what: 'about lumps in grease',
  by: 'inspector',
  body: ({ lumpy }) => ({
    source: { kind: 'audit' },
    requirement: 'DS-7: smooth',
    found: 'lumps',
    severity: 'minor',
    parts: [{ lot: lumpy }],
  }),
  keep: (answer: { report: string }, told) => void (told['lumps'] = answer.report),
};

const report = (action: string, what: string, body: object, more: Partial<Step> = {}): Step => ({
  route: `POST /api/reports/:report/${action}`,
  what,
  by: 'quality',
  params: (told) => [told['lumps']!],
  body: () => body,
  ...more,
});

const propose = (what: string, body: object): Step =>
  report('dispositions', what, body, { body: ({ lumpy }) => part({ lot: lumpy, ...body }) });

const onDisposition = (n: string, action: string, what: string, body: (told: Told) => object, by: Step['by'] = 'quality'): Step => ({
  route: `POST /api/reports/:report/dispositions/:disposition/${action}`,
  what,
  by,
  params: (told) => [told['lumps']!, n],
  body,
});

const sign = (n: string, what: string, as: Step['by'] = 'quality'): Step =>
  onDisposition(n, 'signature', what, () => ({ password: PASSWORD, as }), as);

const onRun = (action: string, what: string, body: (told: Told) => object, keep?: Step['keep']): Step => ({
  route: action === '' ? 'POST /api/runs' : `POST /api/runs/:run/${action}`,
  what,
  by: 'operator',
  params: action === '' ? undefined : (told) => [told['remelting']!],
  body,
  keep,
});

const inspection = (action: string, body: object): Step => ({
  route: `POST /api/inspections/:inspection/${action}`,
  what: 'of what was reworked',
  by: 'inspector',
  params: (told) => [told['remelted']!],
  body: () => body,
});

const concession = { authority: 'customer', authorisedBy: 'A. Quist', reference: 'letter 13', until: '2027-12-31' };

/** Lumpy grease: most of it melted again, some accepted as it is, the rest thrown away; each decided, done and verified. */
export const DISPOSING: readonly Step[] = [
  {
    route: 'POST /api/review-rule',
    by: 'quality',
    body: () => signed({ rules: [{ disposition: 'scrap', functions: ['quality', 'operator'], signers: 2 }] }),
  },
  GREASE,
  RAISE,
  report('containment', 'lumps', signed()),
  report('review', 'lumps', signed({ investigate: { needed: false, reason: 'known' }, inform: { needed: false, reason: 'no' } })),
  propose('in error', { kind: 'return-to-supplier' }),
  onDisposition('1', 'withdrawal', 'in error', () => part({})),
  propose('rework', { kind: 'rework', quantity: '60', adverseEffect: 'darker' }),
  sign('2', 'of the rework'),
  propose('concession', { kind: 'concession', quantity: '30', concession }),
  sign('3', 'of the concession'),
  sign('3', 'of the concession, by another function', 'dispatcher'),
  propose('scrap', { kind: 'scrap' }),
  sign('4', 'of the scrap'),
  sign('4', 'of the scrap, by another function', 'operator'),
  onRun(
    '',
    'melting again',
    () => ({ kind: 'rework', item: 'GREASE' }),
    (answer: { run: string }, told) => void (told['remelting'] = answer.run),
  ),
  onRun('charges', 'melting again', ({ lumpy }) => ({ charges: [{ lot: lumpy, quantity: '60' }] })),
  onRun('close', 'melting again', () => ({ quantity: '60', location: 'FG-1' })),
  {
    ...onDisposition('2', 'carried-out', 'rework', ({ remelting }) => ({ run: remelting, note: 'melted and stirred' }), 'operator'),
    keep: (answer: { dispositions: { carriedOut: { opens: string } | null }[] }, told) =>
      void (told['remelted'] = answer.dispositions[1]!.carriedOut!.opens),
  },
  onDisposition('3', 'carried-out', 'concession', () => ({ note: 'marked on the shelf' }), 'dispatcher'),
  onDisposition('4', 'carried-out', 'scrap', () => ({ document: 'WS-1', note: 'into the skip' }), 'operator'),
  inspection('begin', { lotSize: 5 }),
  inspection('tallies', { conforming: 5 }),
  inspection('results', { characteristic: 'DROP', readings: [{ value: '162' }] }),
  inspection('verdict', {}),
  onDisposition('2', 'verification', 'rework', ({ remelted }) => ({ inspection: remelted }), 'inspector'),
  report('closing', 'lumps', signed()),
  report('reopening', 'lumps', signed()),
];
