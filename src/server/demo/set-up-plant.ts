import { DEMO_PASSWORD } from '../plant/people/demo-password.js';
import { SetUpService } from '../plant/people/set-up.service.js';
import type { Fernhollow } from './fernhollow.js';
import type { PlantDesk } from './plant-desk.js';

/** The one who sets the plant up. */
const ADMINISTRATOR = 'kit.admin';

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
