import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { exactInterval } from '../../shared/statistics/interval.js';
import { catalogueFernhollow, receive } from '../fernhollow.js';
import { type Answer, DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { inspect, inspectionOf, listDefects, planInspection, step } from '../inspecting.js';
import { readPdf } from '../read-pdf.js';
import { expectRebuildEqual } from '../rebuild.js';

interface Chart {
  readonly kind: string;
  readonly unit: string | null;
  readonly panels: readonly {
    readonly statistic: string;
    readonly centre: number;
    readonly points: readonly { readonly value: number }[];
  }[];
  readonly sources: readonly { readonly lot: string }[];
  readonly capability: {
    readonly values: number;
    readonly within: { readonly worst: number } | null;
    readonly cautions: readonly unknown[];
  } | null;
}
interface Refused {
  readonly reasons: readonly { readonly code: string }[];
}

// NIST/SEMATECH e-Handbook 6.3.2.2, flow rate: an individuals chart (fixtures/standards/control-charts.json).
const FLOW = ['49.6', '47.6', '49.9', '51.3', '47.8', '51.2', '52.6', '52.4', '53.6', '52.1'];

describe.each(DATABASES)('figures of inspection on %s', (database) => {
  let plant: Plant;
  const waxes: string[] = [];
  const read = async <Body>(path: string): Promise<Answer<Body>> => plant.as('auditor').get<Body>(path);
  const lids: string[] = [];

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    await listDefects(plant);
    await planInspection(plant, 'LID-250', {
      sampling: { level: 'II', type: 'single', basis: 'items', classes: [{ class: 'major', aql: '1.0' }] },
    });
    await planInspection(plant, 'WAX-BASE', {
      sampling: undefined,
      characteristics: [
        {
          code: 'FLOW',
          name: 'Flow rate',
          kind: 'measured',
          class: 'major',
          unit: 'g/min',
          lower: '40',
          upper: '60',
          rounding: { decimals: 1 },
          procedure: 'FW-12',
        },
        {
          code: 'MELT',
          name: 'Melting point',
          kind: 'measured',
          class: 'major',
          unit: '°C',
          lower: '54',
          upper: '58',
          replicates: 2,
          compute: { kind: 'mean' },
          rounding: { decimals: 2 },
        },
      ],
    });
    for (const [i, value] of FLOW.entries()) {
      const lot = (await receive(plant, [{ item: 'WAX-BASE', quantity: '100' }]))[0]!;
      waxes.push(lot);
      const inspection = await inspectionOf(plant, lot);
      await step(plant, inspection, 'begin');
      await step(plant, inspection, 'results', { characteristic: 'FLOW', readings: [{ value }] });
      if (i === 0) await step(plant, inspection, 'results', { characteristic: 'MELT', readings: [{ value: '53' }, { value: '53.5' }] });
      const retest = i === 0 ? { retestOf: 2, reason: 'bath had not settled' } : {};
      await step(plant, inspection, 'results', { characteristic: 'MELT', readings: [{ value: '56' }, { value: '56.4' }], ...retest });
      await step(plant, inspection, 'verdict');
    }
    for (const major of [0, 2, 1, 0]) {
      const lot = (await receive(plant, [{ item: 'LID-250', quantity: '1000' }], 'S-PACK'))[0]!;
      lids.push(lot);
      await inspect(plant, lot, major);
    }
  });
  afterAll(() => plant.stop());

  it('a chart of single values has the published mean and moving range', async () => {
    const { body } = await read<Chart>('/api/control-charts?item=WAX-BASE&characteristic=FLOW&chart=individuals');
    expect([body.kind, body.unit, body.panels.map((panel) => panel.statistic)]).toEqual([
      'individuals',
      'g/min',
      ['individual', 'moving-range'],
    ]);
    expect(body.panels[0]!.centre).toBeCloseTo(50.81, 4);
    expect(body.panels[1]!.centre).toBeCloseTo(1.8778, 4);
    expect(body.sources.map((one) => one.lot)).toEqual(waxes);
    expect([body.capability!.values, body.capability!.cautions.length > 0]).toEqual([10, true]);
  });

  it('a chart of means has the readings of each result that stands as a subgroup', async () => {
    const { body } = await read<Chart>('/api/control-charts?item=WAX-BASE&characteristic=MELT&chart=means');
    expect(body.panels[0]!.points.map((point) => point.value)).toEqual(FLOW.map(() => 56.2));
  });

  it('charts of lots count their nonconforming items', async () => {
    const { body } = await read<Chart>('/api/control-charts?item=LID-250&chart=fraction');
    expect(body.panels[0]!.points.map((point) => point.value)).toEqual([0, 2 / 80, 1 / 80, 0]);
    const none = await read<Refused>('/api/control-charts?item=HOSE&chart=fraction');
    expect([none.status, none.body.reasons[0]!.code]).toEqual([409, 'no-chart']);
    const unnamed = await read<Refused>('/api/control-charts?item=HOSE&chart=means');
    expect([unnamed.status, unnamed.body.reasons[0]!.code]).toEqual([400, 'characteristic-missing']);
  });

  it('a supplier and item have their lots, verdicts and an exact interval, as JSON and CSV', async () => {
    const { body } = await read<{ nonconformingPerMillion: { lower: number; upper: number; estimate: number } }[]>(
      '/api/figures/suppliers?item=LID-250',
    );
    const { lower, upper } = exactInterval(3, 320, 0.95);
    expect(body).toEqual([
      expect.objectContaining({
        supplier: 'S-PACK',
        item: 'LID-250',
        lots: 4,
        accepted: 4,
        notAccepted: 0,
        itemsInspected: 320,
        itemsNonconforming: 3,
      }),
    ]);
    expect(body[0]!.nonconformingPerMillion.estimate).toBe(9375);
    expect(body[0]!.nonconformingPerMillion.lower).toBeCloseTo(lower * 1e6, 0);
    expect(body[0]!.nonconformingPerMillion.upper).toBeCloseTo(upper * 1e6, 0);
    expect((await read<string>('/api/figures/suppliers.csv?item=LID-250')).body).toContain('S-PACK,LID-250,4,4,0');
  });

  it('a certificate states what was measured on a released lot, its retest, who released it, and the entry', async () => {
    const lot = waxes[0]!;
    const before = await read<Refused>(`/api/lots/${lot}/certificate.pdf`);
    expect([before.status, before.body.reasons[0]!.code]).toEqual([409, 'lot-not-released']);
    const decision = { password: PASSWORD, reason: 'within limits' };
    expect((await plant.as('quality').post(`/api/lots/${lot}/release`, decision)).status).toBe(201);
    const { seq } = (await read<{ seq: number }[]>(`/api/lots/${lot}/decisions`)).body.at(-1)!;
    const pdf = await plant.as('auditor').bytes(`/api/lots/${lot}/certificate.pdf`);
    const text = (await readPdf(pdf)).pages.map((page) => page.text).join('\n');
    for (const said of [
      lot,
      'Melting point',
      '54 to 58 °C',
      '56.2 °C',
      'after 53.25: bath had not settled',
      'FW-12',
      'quality-1',
      `entry ${seq}`,
      'measured on the sample',
    ]) {
      expect(text).toContain(said);
    }
    expect(Buffer.compare(pdf, await plant.as('auditor').bytes(`/api/lots/${lot}/certificate.pdf`))).toBe(0);
    const hold = { parts: [{ lot }], reaches: true, reason: 'complaint', password: PASSWORD };
    expect((await plant.as('quality').post('/api/holds', hold)).status).toBe(201);
    expect((await read<Refused>(`/api/lots/${lot}/certificate.pdf`)).body.reasons[0]!.code).toBe('lot-held');
  });

  it('ends with a record that a replay gives again', () => expectRebuildEqual(plant));
});
