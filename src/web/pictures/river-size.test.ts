import { describe, expect, test } from 'vitest';
import type { RiverGraph, RiverLayer, RiverNode } from '../../../shared/trace-graph.js';
import { layoutTrace, type River } from '../../../shared/trace-layout.js';
import { LABEL_HEIGHT, riverOptions } from './river-size.js';

/** Positions are rounded to hundredths. */
const CLOSE = 0.02;
/** The border around all, which nothing stands in. */
const MARGIN = 12;
const DAYS = 28;

const code = (prefix: string, i: number): string => `${prefix}-${`${i}`.padStart(5, '0')}`;
const day = (i: number, of: number): string => {
  const at = Math.floor((i / of) * 12 * DAYS);
  return `2026-${`${1 + Math.floor(at / DAYS)}`.padStart(2, '0')}-${`${1 + (at % DAYS)}`.padStart(2, '0')}T08:00:00.000Z`;
};

/**
 * A raw material lot in batches of which each leaves a heel to the next but five, two packaging lots a batch beside it, two runs filled
 * out of each batch, and customers, of whom each run goes to three.
 */
function plant(lots: number): RiverGraph {
  const batches = Math.max(1, Math.round((lots - 1) / 5));
  const customers = Math.min(400, 2 + Math.floor(lots / 4));
  const nodes: RiverNode[] = [];
  const links: RiverGraph['links'][number][] = [];
  const add = (id: string, layer: RiverLayer, kind: string, at: string | null, affectedShare: number | null): string => {
    nodes.push({ id, label: id, note: `${kind} ${id}`, layer, kind, quantityMicro: 2_000_000, unit: 'kg', affectedShare, at });
    return id;
  };
  const flow = (source: string, target: string, value: number, affected: boolean): void => {
    links.push({ source, target, value, affected });
  };
  const raw = add('R-00001', 'supplier-lot', 'raw-material', day(0, 1), 1);
  const who = Array.from({ length: customers }, (_, i) => add(code('C', i), 'customer', 'customer', null, 1));
  const hand = add('STORE', 'whereabouts', 'on hand', null, null);
  for (let i = 0; i < batches; i++) {
    const batch = add(code('B', i), 'batch', 'mixture', day(i, batches), 0.3);
    flow(raw, batch, 40, true);
    if (i >= 6 && i % 7 !== 0) flow(code('B', i - 6), batch, 3, true);
    for (const part of [0, 1]) {
      const pack = add(code('P', 2 * i + part), 'supplier-lot', 'packaging', day(i, batches), 0);
      const run = add(code('F', 2 * i + part), 'lot', 'filled', day(i, batches), 0.5);
      flow(batch, run, 20, true);
      flow(pack, run, 400, false);
      for (const nth of [0, 1, 2]) flow(run, who[(i * 7 + part * 3 + nth) % customers] ?? hand, 5 + nth, nth !== 2);
      flow(run, hand, 1, true);
    }
  }
  return { nodes, links };
}

interface Box {
  readonly what: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const boxesOf = (river: River): Box[] =>
  river.nodes.flatMap(({ id, x, y, width, height, labelX, labelY, labelWidth }) => [
    { what: `node ${id}`, left: x, right: x + width, top: y, bottom: y + height },
    { what: `label ${id}`, left: labelX, right: labelX + labelWidth, top: labelY - LABEL_HEIGHT / 2, bottom: labelY + LABEL_HEIGHT / 2 },
  ]);

/** What lies over what: walked from left to right, with what has not ended yet. */
function overlaps(river: River): string[] {
  const faults: string[] = [];
  let open: Box[] = [];
  for (const box of boxesOf(river).toSorted((a, b) => a.left - b.left)) {
    open = open.filter(({ right }) => right > box.left + CLOSE);
    for (const one of open) if (one.top < box.bottom - CLOSE && box.top < one.bottom - CLOSE) faults.push(`${box.what} over ${one.what}`);
    open.push(box);
  }
  return faults;
}

const outside = ({ nodes, width, height }: River): string[] =>
  nodes
    .filter((one) => one.x < MARGIN - CLOSE || one.labelX + one.labelWidth > width || one.y < 0 || one.y + one.height > height)
    .map(({ id }) => id);

function expectLegible(river: River): void {
  expect(overlaps(river)).toEqual([]);
  expect(outside(river)).toEqual([]);
  expect(Math.min(...river.nodes.map(({ labelWidth }) => labelWidth))).toBeGreaterThanOrEqual(100);
}

describe.each([5, 50, 400, 5000])('a river of %d lots', (lots) => {
  const graph = plant(lots);
  test.each([700, 780, 1216, 1900])('is legible in %d pixels: nothing lies over anything, and nothing is left out', (width) => {
    const river = layoutTrace(graph, riverOptions(graph.nodes.length, width));
    expectLegible(river);
    expect(river.nodes.reduce((sum, { foldedCount }) => sum + foldedCount, 0)).toBe(graph.nodes.length);
    expect(river.nodes.length).toBeLessThanOrEqual(80);
  });

  test('stays so as the eight largest folds are opened one after another', () => {
    const open: string[] = [];
    let river = layoutTrace(graph, riverOptions(graph.nodes.length, 780));
    for (;;) {
      const fold = river.nodes.filter(({ foldedCount }) => foldedCount > 1).toSorted((a, b) => b.foldedCount - a.foldedCount)[0];
      if (fold === undefined || open.length === 8) break;
      open.push(fold.id);
      river = layoutTrace(graph, { ...riverOptions(graph.nodes.length, 780), open });
      expectLegible(river);
    }
    expect(open.length > 0).toBe(graph.nodes.length > 80);
  });
});
