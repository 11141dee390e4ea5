import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AQLS } from '../../shared/sampling/aql.js';
import { type Answer, DATABASES, type Plant, startPlant } from '../harness.js';

interface Refused {
  readonly type: string;
  readonly reasons: readonly {
    readonly code: string;
    readonly detail: string;
    readonly pointer?: string;
    readonly nearest?: readonly string[];
  }[];
}
interface PlanAnswer {
  readonly plan: { readonly n: number };
  readonly inspectAll: boolean;
  readonly inspectAllBecause: string | null;
  readonly unverified: string | null;
}
interface Curve {
  readonly unit: string;
  readonly points: readonly { readonly quality: number; readonly acceptance: number }[];
  readonly producersRisk: { readonly risk: number } | null;
  readonly qualityAt: readonly { readonly atLeast: number; readonly quality: number }[];
  readonly largestAverageSample: { readonly items: number } | null;
}

const faults = (answer: Answer<Refused>): [number, ...(readonly [string, string | undefined])[]] => [
  answer.status,
  ...answer.body.reasons.map(({ code, pointer }) => [code, pointer] as const),
];

describe.each(DATABASES)('sampling plans on %s', (database) => {
  let plant: Plant;
  const plan = <Body = PlanAnswer>(query: string) => plant.as('inspector').get<Body>(`/api/sampling/plan?${query}`);
  const curve = <Body = Curve>(query: string) => plant.as('inspector').get<Body>(`/api/sampling/oc?${query}`);

  beforeAll(async () => {
    plant = await startPlant(database);
  });
  afterAll(() => plant.stop());

  it('answers with edition, letter and plan (RC-6)', async () => {
    const answer = await plan('lotSize=1200&level=II&aql=1.0&severity=normal&type=single');
    expect(answer.status).toBe(200);
    expect(answer.body).toEqual({
      edition: 'ISO 2859-1:1999',
      codeLetter: 'J',
      plan: { letter: 'J', n: 80, ac: 2, re: 3 },
      inspectAll: false,
      inspectAllBecause: null,
      arrows: [],
      unverified: null,
    });
    expect((await plan('lotSize=1200&level=II&aql=1')).body).toEqual(answer.body);
  });

  it('answers for two samples, with what is not verified about them', async () => {
    const answer = await plan('lotSize=1200&level=II&aql=1.5&type=double');
    expect(answer.body).toMatchObject({ plan: { letter: 'J', n1: 50, ac1: 1, re1: 3, n2: 50, ac2: 4, re2: 5 } });
    expect(answer.body.unverified).toMatch(/Ac 3, 7 or 8/);
  });

  it('answers for a lot of one, the largest lots and every AQL', async () => {
    const one = await plan('lotSize=1&level=II&aql=1.0');
    expect([one.status, one.body.inspectAll]).toEqual([200, true]);
    expect(one.body.inspectAllBecause).toMatch(/lot of one/);
    for (const aql of AQLS) {
      const answer = await plan(`lotSize=9007199254740992&level=III&aql=${aql}&severity=tightened`);
      expect([aql, answer.status, answer.body.inspectAll]).toEqual([aql, 200, false]);
    }
  });

  it('refuses an AQL of 1.1 and names 1.0 and 1.5', async () => {
    const answer = await plan<Refused>('lotSize=1200&level=II&aql=1.1');
    expect([answer.status, answer.body.type]).toEqual([400, '/problems/aql-unknown']);
    expect(answer.body.reasons[0]).toMatchObject({ nearest: ['1.0', '1.5'], pointer: '/aql' });
  });

  it('says every fault at once', async () => {
    expect(faults(await plan<Refused>('lotSize=many&level=IV&aql=15&severity=strict&type=multiple&basis=items'))).toEqual([
      400,
      ['lot-size-wrong', '/lotSize'],
      ['level-unknown', '/level'],
      ['severity-unknown', '/severity'],
      ['plan-type-not-offered', '/type'],
      ['aql-not-for-items', '/basis'],
    ]);
    expect(faults(await plan<Refused>(''))).toEqual([
      400,
      ['lot-size-wrong', '/lotSize'],
      ['level-unknown', '/level'],
      ['aql-unknown', '/aql'],
    ]);
    expect(faults(await plan<Refused>('lotSize=0&level=II&aql=1&aql=2'))).toEqual([
      400,
      ['lot-size-wrong', '/lotSize'],
      ['aql-unknown', '/aql'],
    ]);
    expect(faults(await plan<Refused>('lotSize=1e3&level=II&aql=1.0'))).toEqual([400, ['lot-size-wrong', '/lotSize']]);
    expect((await plan<Refused>('lotSize=5&level=II&aql=1.0&size=3')).status).toBe(400);
  });

  it('draws the operating characteristic of a single and of a double plan', async () => {
    const single = await curve('n=80&ac=2&aql=1.0');
    expect(single.status).toBe(200);
    expect(single.body.unit).toBe('percent nonconforming');
    expect(single.body.points[0]).toMatchObject({ quality: 0, acceptance: 1 });
    // Binomial, by hand: 0.99^80 (1 + 80 (0.01/0.99) + 3160 (0.01/0.99)^2) = 0.9534
    expect(single.body.producersRisk?.risk).toBeCloseTo(1 - 0.9534, 4);
    expect(single.body.qualityAt.map(({ atLeast }) => atLeast)).toEqual([0.95, 0.5, 0.1]);
    expect(single.body.largestAverageSample).toBeNull();
    const double = await curve('n1=50&ac1=0&re1=3&n2=50&ac2=3&re2=4&aql=15');
    expect([double.status, double.body.unit]).toEqual([200, 'nonconformities per 100 items']);
    expect(double.body.largestAverageSample?.items).toBeGreaterThan(50);
    expect((await curve('n=80&ac=2&distribution=hypergeometric&lotSize=500')).status).toBe(200);
  });

  it('says of an operating characteristic what stands against it', async () => {
    expect(faults(await curve<Refused>(''))).toEqual([400, ['plan-incomplete', '/n'], ['plan-incomplete', '/ac']]);
    expect(faults(await curve<Refused>('n=80&n1=50&ac1=0&re1=3&n2=50&ac2=3'))).toEqual([
      400,
      ['plan-incomplete', '/re2'],
      ['plan-mixed', '/n'],
    ]);
    expect(faults(await curve<Refused>('n=80&ac=2&distribution=hypergeometric'))).toEqual([400, ['oc-impossible', undefined]]);
    expect(faults(await curve<Refused>('n=0&ac=-1&distribution=normal'))).toEqual([
      400,
      ['shape', '/n'],
      ['shape', '/ac'],
      ['shape', '/distribution'],
    ]);
  });

  it('is described in the API document: what is needed and what can be left out', async () => {
    const document = await plant.as('inspector').get<{
      paths: Record<string, { get: { parameters: { name: string; required: boolean; schema: object }[] } }>;
    }>('/api/openapi.json');
    const parameters = document.body.paths['/api/sampling/plan']!.get.parameters;
    expect(parameters.map(({ name, required }) => [name, required])).toEqual([
      ['lotSize', true],
      ['level', true],
      ['aql', true],
      ['severity', false],
      ['type', false],
      ['basis', false],
    ]);
  });
});
