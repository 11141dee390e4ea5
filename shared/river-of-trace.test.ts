import { describe, expect, it } from 'vitest';
import type { FlowLink, FlowLot, FlowPart } from './api/flow.js';
import { riverCustomerId, riverLotId, riverOfTrace } from './river-of-trace.js';

const lot = (code: string, more: Partial<FlowLot> = {}): FlowLot => ({
  lot: code,
  item: 'MIX-WAX',
  itemName: 'Chain wax',
  class: 'mixture',
  unit: 'kg',
  pieces: null,
  quantity: '50',
  affected: true,
  spans: null,
  affectedQuantity: '50',
  origin: 'made',
  source: 'RUN-1',
  supplier: null,
  supplierLot: null,
  bornAt: '2026-03-02T08:00:00.000Z',
  widthPerUnit: 1,
  ...more,
});
const cans = (code: string, hit: FlowLot['spans'], affectedQuantity: string): FlowLot =>
  lot(code, { class: 'filled', unit: 'each', pieces: 100, quantity: '100', spans: hit, affectedQuantity, widthPerUnit: 0.25 });
const link = (from: string, to: string, more: Partial<FlowLink> = {}): FlowLink => ({
  link: '1.0',
  from,
  fromSpan: null,
  to,
  toSpan: null,
  quantity: '10',
  mass: '0',
  map: 'all',
  ...more,
});
const part = (of: string, more: Partial<FlowPart> = {}): FlowPart => ({
  lot: of,
  fate: 'dispatched',
  at: 'S-1',
  customer: 'C-001',
  customerName: 'Alder Cycles',
  quantity: '100',
  affectedQuantity: '60',
  ...more,
});
const bands = (graph: ReturnType<typeof riverOfTrace>) => graph.links.map(({ value, affected }) => [value, affected]);

describe('the river of a trace', () => {
  it('is as wide as the mass that blended in, else as what was taken weighs', () => {
    const lots = [lot('R-1', { origin: 'received', class: 'raw-material' }), lot('B-1'), lot('L-1', { unit: 'L', widthPerUnit: 0.8 })];
    const graph = riverOfTrace({ lots, links: [link('R-1', 'B-1', { mass: '5' }), link('L-1', 'B-1')], parts: [] });
    expect(bands(graph)).toEqual([
      [5, true],
      [8, true],
    ]);
    expect(graph.nodes.map(({ id, layer, note }) => [id, layer, note])).toEqual([
      ['lot R-1', 'supplier-lot', 'Chain wax, 50 kg'],
      ['lot B-1', 'batch', 'Chain wax, 50 kg'],
      ['lot L-1', 'batch', 'Chain wax, 50 L'],
    ]);
  });

  it('draws a lot that was not reached pale, and everything that comes of it', () => {
    const ghost = lot('R-9', { affected: false, affectedQuantity: '0' });
    const graph = riverOfTrace({ lots: [ghost, lot('B-1')], links: [link('R-9', 'B-1')], parts: [] });
    expect(bands(graph)).toEqual([[10, false]]);
    expect(graph.nodes[0]).toMatchObject({ affectedShare: 0, note: 'Chain wax' });
  });

  it('inks a link whose recorded pieces were reached, and no other', () => {
    const lots = [lot('B-1'), cans('F-1', [[61, 100]], '40')];
    const links = [link('B-1', 'F-1', { toSpan: [1, 60] }), link('B-1', 'F-1', { toSpan: [61, 100] })];
    expect(bands(riverOfTrace({ lots, links, parts: [] }))).toEqual([
      [15, false],
      [10, true],
    ]);
  });

  it('splits a link of one piece into one by what was reached on both sides', () => {
    const lots = [cans('G-1', [[1, 5]], '5'), cans('U-1', [[13, 20]], '8')];
    const links = [link('G-1', 'U-1', { fromSpan: [1, 10], toSpan: [11, 20], map: 'each' })];
    // Pieces 1-5 went into 11-15, of which 13-15 were reached.
    expect(bands(riverOfTrace({ lots, links, parts: [] }))).toEqual([
      [0.75, true],
      [1.75, false],
    ]);
  });

  it('ends with customers and places, what is affected apart, and adds up no kilograms and pieces', () => {
    const lots = [lot('B-1'), cans('F-1', [[1, 60]], '60')];
    const parts = [
      part('F-1'),
      part('B-1', { quantity: '10', affectedQuantity: '10' }),
      part('B-1', { fate: 'on-hand', at: 'V-1', customer: null, quantity: '40', affectedQuantity: '40' }),
      part('B-1', { fate: 'consumed', at: 'RUN-2', customer: null }),
    ];
    const graph = riverOfTrace({ lots, links: [], parts });
    expect(graph.links).toEqual([
      { source: riverLotId('F-1'), target: riverCustomerId('C-001'), value: 15, affected: true },
      { source: riverLotId('F-1'), target: riverCustomerId('C-001'), value: 10, affected: false },
      { source: riverLotId('B-1'), target: riverCustomerId('C-001'), value: 10, affected: true },
      { source: riverLotId('B-1'), target: 'place on-hand V-1', value: 40, affected: true },
    ]);
    expect(graph.nodes.slice(2)).toEqual([
      expect.objectContaining({ label: 'C-001', note: 'Alder Cycles', quantityMicro: 0, affectedShare: 25 / 35 }),
      expect.objectContaining({ label: 'V-1', note: 'on hand', quantityMicro: 40_000_000, unit: 'kg', affectedShare: 1 }),
    ]);
  });
});
