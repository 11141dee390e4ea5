import type { Answer, Plant } from './harness.js';

/** Plans, defects and steps of inspection for flow tests, through the routes. */

const DEFECTS = [
  { code: 'D-DENT', name: 'Dented', severity: 'minor' },
  { code: 'D-LEAK', name: 'Leaks', severity: 'major' },
  { code: 'D-BURST', name: 'Bursts under pressure', severity: 'critical' },
];

async function taken<Body>(answer: Promise<Answer<Body>>): Promise<Body> {
  const { status, body } = await answer;
  if (status >= 400) throw new Error(`refused: ${JSON.stringify(body)}`);
  return body;
}

/** The plant's list of defects: one of each class. */
export async function listDefects(plant: Plant): Promise<void> {
  for (const defect of DEFECTS) await taken(plant.as('quality').post('/api/defects', defect));
}

/** Major 1.0 and minor 4.0 at level II, single, nonconforming items, unless the test says otherwise. */
export async function planInspection(plant: Plant, item: string, more: object = {}): Promise<void> {
  const sampling = {
    level: 'II',
    type: 'single',
    basis: 'items',
    classes: [
      { class: 'major', aql: '1.0' },
      { class: 'minor', aql: '4.0' },
    ],
  };
  await taken(plant.as('quality').post('/api/inspection-plans', { code: item, name: `Inspection of ${item}`, sampling, ...more }));
}

/** What tests look at of an inspection. */
export interface Inspected {
  readonly inspection: string;
  readonly lot: string;
  readonly state: string;
  readonly verdict: string | null;
  readonly computed: string | null;
  readonly toInspect: number;
  readonly secondSample: boolean;
  readonly holds: readonly string[];
  readonly sample: { readonly edition: string; readonly codeLetter: string; readonly first: number; readonly second: number | null } | null;
  readonly classes: readonly {
    readonly class: string;
    readonly severity: string | null;
    readonly plan: Readonly<Record<string, number | string>> | null;
    readonly found: readonly number[];
    readonly standing: string;
  }[];
  readonly results: readonly {
    readonly result: number;
    readonly value: string;
    readonly within: boolean;
    readonly followed: boolean;
    readonly files: readonly string[];
  }[];
  readonly missing: readonly string[];
  readonly failed: readonly string[];
  readonly ended: {
    readonly switched: readonly { readonly class: string; readonly after: string; readonly because: readonly string[] }[];
  } | null;
}

/** The inspection that is open on a lot. */
export async function inspectionOf(plant: Plant, lot: string): Promise<string> {
  const lines = await taken(plant.as('auditor').get<{ inspection: string }[]>(`/api/inspections?lot=${lot}`));
  if (lines[0] === undefined) throw new Error(`no inspection of ${lot}`);
  return lines[0].inspection;
}

/** A step of an inspection by the inspector, which must be taken. */
export const step = (plant: Plant, inspection: string, what: string, body: object = {}): Promise<Inspected> =>
  taken(plant.as('inspector').post<Inspected>(`/api/inspections/${inspection}/${what}`, body));

/** Begins the inspection of a lot, finds so many major nonconforming items in the whole first sample, and decides. */
export async function inspect(plant: Plant, lot: string, major = 0): Promise<Inspected> {
  const inspection = await inspectionOf(plant, lot);
  const { sample } = await step(plant, inspection, 'begin');
  const items = Array.from({ length: major }, () => ({ found: [{ defect: 'D-LEAK' }] }));
  await step(plant, inspection, 'tallies', { conforming: sample!.first - major, items });
  return step(plant, inspection, 'verdict');
}
