import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Answer, DATABASES, type Plant, startPlant } from '../harness.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { expectRebuildEqual } from '../rebuild.js';

interface ProblemBody {
  reasons: { code: string; pointer?: string }[];
}
const reasons = (answer: Answer): string[] =>
  (answer.body as ProblemBody).reasons.map((reason) => [reason.code, reason.pointer].filter(Boolean).join(' '));

describe.each(DATABASES)('the catalogue on %s', (database) => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
  });
  afterAll(async () => {
    await expectRebuildEqual(plant);
    await plant.stop();
  });

  const post = <Body = never>(path: string, body: object) => plant.as('quality').post<Body>(`/api/${path}`, body);
  const get = <Body>(path: string) => plant.as('auditor').get<Body>(`/api/${path}`);
  const grease = { code: 'GREASE', name: 'Bearing grease', class: 'raw-material', unit: 'kg', tracking: 'bulk', shelfLifeDays: 300 };

  it('adds an item, revises it with a reason, and keeps both revisions readable (C-1, C-2)', async () => {
    const first = await post('items', { ...grease, commandId: `grease-${database}` });
    expect([first.status, first.body]).toEqual([
      201,
      {
        code: 'GREASE',
        revision: 1,
        name: 'Bearing grease',
        class: 'raw-material',
        unit: 'kg',
        tracking: 'bulk',
        gtin: null,
        density: null,
        shelfLifeDays: 300,
        content: null,
        serialPattern: null,
        hazard: null,
        storage: null,
      },
    ]);
    expect((await post('items', { ...grease, commandId: `grease-${database}` })).body).toEqual(first.body);
    const next = { ...grease, density: '0.9', hazard: 'keep from flames', revision: 1, reason: 'density measured' };
    expect((await post('items', next)).body).toMatchObject({ revision: 2, density: '0.9', hazard: 'keep from flames' });
    expect((await get('items/GREASE')).body).toMatchObject({ revision: 2 });
    const history = await get<object[]>('items/GREASE/history');
    expect(history.body).toMatchObject([
      { revision: 1, by: 'quality-1', reason: null, record: { density: null } },
      { revision: 2, by: 'quality-1', reason: 'density measured', untilSeq: null, record: { density: '0.9' } },
    ]);
  });

  it('takes back what it has shown, where null says that a member is not known (C-2)', async () => {
    await post('items', { code: 'ROPE', name: 'Rope', class: 'raw-material', unit: 'm', tracking: 'bulk' });
    const { body } = await get<object>('items/ROPE');
    expect(body).toMatchObject({ gtin: null, density: null });
    const again = { ...body, revision: 1, reason: 'named better', name: 'Rope, 3 mm' };
    expect((await post('items', again)).body).toEqual({ ...body, revision: 2, name: 'Rope, 3 mm' });
    expect(reasons(await post('items', { ...again, revision: 2, unit: null }))).toEqual(['shape /unit']);
  });

  it('lets one of two revisions of the same revision win (C-2)', async () => {
    await post('parties', { code: 'C-9', name: 'Ninth Gear', role: 'customer' });
    const revision = (contact: string) =>
      post('parties', { code: 'C-9', name: 'Ninth Gear', role: 'customer', contact, revision: 1, reason: 'moved' });
    const both = await Promise.all([revision('one@ninth.example'), revision('two@ninth.example')]);
    expect(both.map((answer) => answer.status).toSorted((a, b) => a - b)).toEqual([201, 409]);
    expect(reasons(both.find((answer) => answer.status === 409)!)).toEqual(['revised-meanwhile /revision']);
  });

  it('gives every reason against an item at once, with pointers (C-3, C-4)', async () => {
    const answer = await post('items', {
      code: 'CAN-X',
      name: 'Can',
      class: 'filled',
      unit: 'kg',
      tracking: 'bulk',
      gtin: '09506000134353',
      density: '0',
      serialPattern: 'X',
    });
    expect(answer.status).toBe(400);
    expect(reasons(answer)).toEqual([
      'unit-does-not-fit /unit',
      'tracking-does-not-fit /tracking',
      'gtin-wrong /gtin',
      'density-impossible /density',
      'no-serials-here /serialPattern',
      'pattern-wrong /serialPattern',
    ]);
    expect((await get('items/CAN-X')).status).toBe(404);
  });

  it('refuses the GTIN of another item and a wrong GLN (C-4, ID-9)', async () => {
    const { body } = await get<{ gtin: string }>('items/WAX-250');
    const again = { code: 'WAX-250B', name: 'Can again', class: 'filled', unit: 'each', tracking: 'pieces', gtin: body.gtin };
    expect(reasons(await post('items', again))).toEqual(['gtin-taken /gtin']);
    expect(reasons(await post('parties', { code: 'C-8', name: 'Eighth', role: 'customer', gln: '9506000134353' }))).toEqual([
      'gln-wrong /gln',
    ]);
  });

  it('tells codes apart that differ by case or leading zeros (C-1, ID-8)', async () => {
    for (const code of ['0042', '42', 'abc', 'ABC']) expect((await post('lines', { code, name: `Line ${code}` })).status).toBe(201);
    const lines = await get<{ code: string; name: string }[]>('lines');
    const codes = lines.body.map((line) => line.code);
    expect(codes).toEqual(codes.toSorted());
    expect(codes).toEqual(expect.arrayContaining(['0042', '42', 'ABC', 'abc']));
  });

  it('keeps the unit of an item once a lot of it exists (C-5)', async () => {
    const dye = { code: 'DYE-RED', name: 'Red dye', class: 'raw-material', unit: 'kg', tracking: 'bulk' };
    await post('items', dye);
    const change = (revision: number) => post('items', { ...dye, unit: 'each', revision, reason: 'counted from now on' });
    expect((await change(1)).status).toBe(201);
    await post('items', { ...dye, revision: 2, reason: 'back again' });
    await receive(plant, [{ item: 'DYE-RED', quantity: '5' }]);
    expect(reasons(await change(3))).toEqual(['lots-exist /unit']);
  });

  it('revises a recipe and a bill of materials in order as given (C-6, C-7)', async () => {
    const { body } = await get<{ revision: number; steps: { item: string; target: string }[] }>('recipes/RCP-WAX');
    expect(body.steps.map((step) => step.item)).toEqual(['WAX-BASE', 'OIL-40', 'SOLV', 'DYE-BLU', 'RUST-INH']);
    const steps = body.steps.toReversed();
    const next = await post('recipes', { ...body, steps, revision: 1, reason: 'other way round' });
    expect(next.body).toMatchObject({ revision: 2, steps });
    const bad = { ...body, steps: [{ item: 'CAN-250', target: '1', toleranceBp: 0, mixMinutes: 0 }], revision: 2, reason: 'wrong' };
    expect(reasons(await post('recipes', bad))).toEqual(['no-mass /steps/0/item']);
    const bom = await get<object>('boms/BOM-PUMP');
    expect(reasons(await post('boms', { ...bom.body, revision: 1, reason: 'nothing' }))).toEqual(['nothing-changed']);
    const loop = { ...bom.body, lines: [{ item: 'PUMP', perPiece: '1', trackedBy: 'serial' }], revision: 1, reason: 'wrong' };
    expect(reasons(await post('boms', loop))).toEqual(['made-of-itself /lines/0/item']);
  });

  it('gives vessels, lines and locations one space of codes (C-9)', async () => {
    expect(reasons(await post('locations', { code: 'V-1', name: 'Shelf', use: 'stock' }))).toEqual(['code-clash /code']);
    expect(reasons(await post('vessels', { code: 'DOCK', name: 'Kettle', capacity: '-1' }))).toEqual([
      'code-clash /code',
      'not-positive /capacity',
    ]);
    expect((await post('vessels', { code: 'V-1', name: 'Kettle 1, new lid', capacity: '500', revision: 1, reason: 'lid' })).status).toBe(
      201,
    );
  });

  it.each([
    ['tolerance beyond the whole', { toleranceBp: 10_001 }],
    ['negative tolerance', { toleranceBp: -1 }],
    ['half a minute', { mixMinutes: 0.5 }],
    ['a target with a comma', { target: '1,5' }],
    ['a target too precise', { target: '0.0000001' }],
  ])('does not understand %s', async (_what, change) => {
    const step = { item: 'WAX-BASE', target: '1', toleranceBp: 0, mixMinutes: 0, ...change };
    const answer = await post('recipes', { code: 'R-X', name: 'x', item: 'MIX-WAX', batch: '1', steps: [step] });
    expect([answer.status, (answer.body as ProblemBody).reasons[0]!.pointer]).toEqual([400, `/steps/0/${Object.keys(change)[0]}`]);
  });

  it('is not for the clerk to change (P-1)', async () => {
    expect((await plant.as('clerk').post('/api/items', grease)).status).toBe(403);
    expect((await plant.as('administrator').post('/api/lines', { code: 'L-ADM', name: 'Added' })).status).toBe(201);
  });
});
