import type { Step } from './step.js';

/** What quality writes down before anything can be inspected; of an item that nothing else in the story touches. */
export const PLANNING: readonly Step[] = [
  { route: 'POST /api/defects', by: 'quality', body: () => ({ code: 'D-LUMP', name: 'Lumps', severity: 'major' }) },
  {
    route: 'POST /api/inspection-plans',
    by: 'quality',
    body: () => ({
      code: 'GREASE',
      name: 'Inspection of grease',
      sampling: { level: 'II', type: 'single', basis: 'items', classes: [{ class: 'major', aql: '1.0' }] },
      characteristics: [
        { code: 'LUMPS', name: 'Smooth', kind: 'attribute', class: 'major', defect: 'D-LUMP' },
        { code: 'DROP', name: 'Dropping point', kind: 'measured', class: 'major', unit: '°C', lower: '150' },
      ],
    }),
  },
];
