import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { SetUpService } from '../plant/people/set-up.service.js';
import { DEMO_PASSWORD } from '../plant/people/demo-password.js';
import type { PlantDesk } from './plant-desk.js';

interface CodedRecord {
  readonly code: string;
  readonly name: string;
}

/** The invented plant, as its file describes it. */
export interface Fernhollow {
  readonly name: string;
  readonly seed: number;
  readonly people: readonly { readonly person: string; readonly name: string; readonly roles: readonly string[] }[];
  readonly locations: readonly CodedRecord[];
  readonly vessels: readonly CodedRecord[];
  readonly lines: readonly CodedRecord[];
  readonly parties: readonly (CodedRecord & { readonly role: string })[];
  readonly items: readonly CodedRecord[];
  readonly recipes: readonly CodedRecord[];
  readonly boms: readonly CodedRecord[];
  readonly defects: readonly CodedRecord[];
  readonly instruments: readonly CodedRecord[];
  /** Inspection plans, by the code of their item. */
  readonly plans: readonly CodedRecord[];
}

/** The project's root, from the sources as well as from the build. */
function projectRoot(): string {
  let dir = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(dir, 'package.json'))) dir = dirname(dir);
  return dir;
}

export const readFernhollow = (): Fernhollow =>
  JSON.parse(readFileSync(join(projectRoot(), 'fixtures', 'plants', 'fernhollow.json'), 'utf8')) as Fernhollow;

/** The one who sets the plant up. */
export const ADMINISTRATOR = 'kit.admin';

/** People with the demonstration's password, then the catalogue, through the routes. */
export async function setUp(desk: PlantDesk, plant: Fernhollow): Promise<void> {
  const code = await desk.app.get(SetUpService).prepare();
  const first = plant.people.find(({ person }) => person === ADMINISTRATOR)!;
  await desk.post('/api/set-up', { code, person: first.person, displayName: first.name, password: DEMO_PASSWORD });
  const administrator = desk.worker(ADMINISTRATOR);
  for (const { person, name, roles } of plant.people) {
    if (person !== ADMINISTRATOR) await administrator.post('/api/people', { person, displayName: name, roles, password: DEMO_PASSWORD });
  }
  for (const kind of ['locations', 'vessels', 'lines', 'parties', 'items', 'recipes', 'boms', 'defects', 'instruments'] as const) {
    for (const record of plant[kind]) await administrator.post(`/api/${kind}`, record);
  }
  for (const plan of plant.plans) await administrator.post('/api/inspection-plans', plan);
}
