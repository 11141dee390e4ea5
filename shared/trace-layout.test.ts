import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RiverGraph, RiverLayer, RiverLink, RiverNode } from './trace-graph.js';
import type { PlacedNode, River } from './trace-layout.js';
import { layoutTrace } from './trace-layout.js';

const LAYERS: readonly RiverLayer[] = ['supplier-lot', 'lot', 'batch', 'run', 'customer', 'whereabouts'];

function node(id: string, layer: RiverLayer, more: Partial<RiverNode> = {}): RiverNode {
  return { id, label: id, layer, kind: layer, quantityMicro: 1_000_000, affectedShare: 0, at: null, ...more };
}

function link(source: string, target: string, value = 1, affected = false): RiverLink {
  return { source, target, value, affected };
}

const anyNode = (i: number): fc.Arbitrary<RiverNode> =>
  fc.record({
    id: fc.constant(`N-${i}`),
    label: fc.string({ maxLength: 30 }),
    note: fc.string({ maxLength: 30 }),
    layer: fc.constantFrom(...LAYERS),
    kind: fc.constantFrom('wax', 'can', 'label'),
    unit: fc.constantFrom('kg', 'each'),
    quantityMicro: fc.integer({ min: 0, max: 10_000_000_000 }),
    affectedShare: fc.option(fc.constantFrom(0, 0.25, 1)),
    at: fc.option(fc.constantFrom('2026-01-03T08:00:00.000Z', '2026-01-19T08:00:00.000Z', '2026-03-02T08:00:00.000Z')),
  });

const anyGraph: fc.Arbitrary<RiverGraph> = fc.integer({ min: 0, max: 40 }).chain((count) =>
  fc.record({
    nodes: fc.tuple(...Array.from({ length: count }, (_, i) => anyNode(i))),
    links: fc.array(
      fc.record({
        source: fc.nat({ max: Math.max(0, count - 1) }).map((i) => `N-${i}`),
        target: fc.nat({ max: Math.max(0, count - 1) }).map((i) => `N-${i}`),
        value: fc.integer({ min: 0, max: 5_000_000 }),
        affected: fc.boolean(),
      }),
      { maxLength: count === 0 ? 0 : 80 },
    ),
  }),
);

const anyOptions = fc.record({
  width: fc.integer({ min: 50, max: 2000 }),
  maxNodes: fc.integer({ min: 1, max: 45 }),
  maxColumns: fc.integer({ min: 2, max: 40 }),
});

const CLOSE = 0.02; // positions are rounded to hundredths

function overlapping(nodes: readonly PlacedNode[]): string[] {
  const faults: string[] = [];
  nodes.forEach((a, i) => {
    for (const b of nodes.slice(i + 1)) {
      const apart = a.x + a.width <= b.x || b.x + b.width <= a.x || a.y + a.height <= b.y + CLOSE || b.y + b.height <= a.y + CLOSE;
      if (!apart) faults.push(`${a.id} over ${b.id}`);
    }
  });
  return faults;
}

function overlappingLabels(nodes: readonly PlacedNode[], labelHeight: number): string[] {
  const boxes = nodes.map(({ id, labelX, labelY, labelWidth }) => ({
    id,
    x: labelX,
    y: labelY - labelHeight / 2,
    width: labelWidth,
    height: labelHeight,
  }));
  const faults: string[] = [];
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) {
      const across = a.x < b.x + b.width - CLOSE && b.x < a.x + a.width - CLOSE;
      if (across && a.y < b.y + b.height - CLOSE && b.y < a.y + a.height - CLOSE) faults.push(`${a.id} over ${b.id}`);
    }
  });
  return faults;
}

function outside({ width, height, nodes }: River): PlacedNode[] {
  return nodes.filter(
    (n) =>
      !(
        n.x >= 0 &&
        n.y >= -CLOSE &&
        n.x + n.width <= width &&
        n.y + n.height <= height + CLOSE &&
        n.height > 0 &&
        n.labelX + n.labelWidth <= width + CLOSE
      ),
  );
}

function total<T>(list: readonly T[], of: (item: T) => number): number {
  return list.reduce((sum, item) => sum + of(item), 0);
}

function forAny(check: (graph: RiverGraph, river: River) => void): void {
  fc.assert(
    fc.property(anyGraph, anyOptions, (graph, options) => {
      check(graph, layoutTrace(graph, options));
    }),
    { numRuns: 400 },
  );
}

describe('for any river', () => {
  test('every node is inside the picture, and no two nodes or labels overlap', () => {
    forAny((_graph, river) => {
      expect(outside(river)).toEqual([]);
      expect(overlapping(river.nodes)).toEqual([]);
      expect(overlappingLabels(river.nodes, 28)).toEqual([]);
    });
  });

  test('every band runs from left to right between its nodes, is seen, and stays within them', () => {
    forAny((_graph, { nodes, links }) => {
      const by = new Map(nodes.map((placed) => [placed.id, placed]));
      const faults = links.filter(({ source, target, path, width }) => {
        const [from, to] = [by.get(source), by.get(target)];
        const [x0, y0, , , , , x1, y1] = [...path.matchAll(/-?[\d.]+/g)].map((match) => Number(match[0]));
        if (from === undefined || to === undefined || x0 === undefined || y0 === undefined || x1 === undefined || y1 === undefined)
          return true;
        const attached = Math.abs(x0 - from.x - from.width) < CLOSE && Math.abs(x1 - to.x) < CLOSE && x0 < x1;
        const within = (y: number, at: PlacedNode): boolean =>
          y - width / 2 >= at.y - 3 * CLOSE && y + width / 2 <= at.y + at.height + 3 * CLOSE;
        return !(attached && width >= 0.99 && within(y0, from) && within(y1, to));
      });
      expect(faults).toEqual([]);
    });
  });

  test('links that run back stay inside the picture', () => {
    forAny((_graph, { width, height, backLinks }) => {
      for (const { path } of backLinks) {
        const figures = [...path.matchAll(/-?[\d.]+/g)].map((match) => Number(match[0]));
        expect(figures.filter((figure, i) => !(figure >= 0 && figure <= (i % 2 === 0 ? width : height)))).toEqual([]);
      }
    });
  });

  test('folding hides no node, no quantity, no link and no value', () => {
    forAny((graph, { nodes, links, backLinks, totalNodes }) => {
      expect(totalNodes).toBe(graph.nodes.length);
      expect(total(nodes, (n) => n.foldedCount)).toBe(graph.nodes.length);
      expect(nodes.flatMap((n) => n.members).toSorted()).toEqual(graph.nodes.map((n) => n.id).toSorted());
      for (const unit of ['kg', 'each']) {
        const sum = (list: readonly RiverNode[]): number =>
          total(
            list.filter((n) => n.unit === unit),
            (n) => n.quantityMicro,
          );
        expect(sum(nodes)).toBe(sum(graph.nodes));
      }
      const drawn = [...links, ...backLinks];
      expect(total(drawn, (l) => l.count) + total(nodes, (n) => n.innerCount)).toBe(graph.links.length);
      expect(total(drawn, (l) => l.value) + total(nodes, (n) => n.innerValue)).toBe(total(graph.links, (l) => l.value));
      const affected = total(
        drawn.filter((l) => l.affected),
        (l) => l.value,
      );
      expect(affected).toBeLessThanOrEqual(
        total(
          graph.links.filter((l) => l.affected),
          (l) => l.value,
        ),
      );
    });
  });

  test('the order of nodes and links does not matter', () => {
    forAny((graph, river) => {
      const options = { width: 900, maxNodes: 12 };
      const turned = { nodes: graph.nodes.toReversed(), links: graph.links.toReversed() };
      expect(layoutTrace(turned, options)).toEqual(layoutTrace(graph, options));
      expect(river.nodes.length).toBeLessThanOrEqual(graph.nodes.length);
    });
  });

  test('labels are cut to fit and kept whole beside', () => {
    forAny((graph, { nodes }) => {
      const whole = new Map(graph.nodes.map(({ id, label }) => [id, label]));
      const faults = nodes.filter(
        ({ id, label, shortLabel, labelWidth, foldedCount }) =>
          Array.from(shortLabel).length * 6.4 > labelWidth ||
          (foldedCount === 1 ? label !== whole.get(id) : !label.startsWith(`${foldedCount} ×`)),
      );
      expect(faults).toEqual([]);
    });
  });
});

const story: RiverGraph = {
  nodes: [
    node('R-0311', 'supplier-lot', { affectedShare: 1, at: '2026-03-01T08:00:00.000Z', note: 'Rust inhibitor' }),
    node('R-0298', 'supplier-lot', { at: '2026-02-20T08:00:00.000Z' }),
    node('B-0417', 'batch', { at: '2026-03-02T08:00:00.000Z' }),
    node('B-0418', 'batch', { affectedShare: 0.048, at: '2026-03-03T08:00:00.000Z' }),
    node('F-0031', 'lot', { affectedShare: 0.6, at: '2026-03-03T15:00:00.000Z' }),
    node('C-014', 'customer', { affectedShare: 0.6 }),
    node('on hand', 'whereabouts', { affectedShare: 0.6 }),
  ],
  links: [
    link('R-0311', 'B-0418', 40, true),
    link('R-0298', 'B-0417', 620),
    link('R-0298', 'B-0418', 590),
    link('B-0417', 'B-0418', 28),
    link('B-0417', 'F-0031', 480),
    link('B-0418', 'F-0031', 610, true),
    link('F-0031', 'C-014', 700, true),
    link('F-0031', 'on hand', 390, true),
  ],
};

const columnOf = (river: River, id: string): number | undefined => river.nodes.find((placed) => placed.id === id)?.column;
const nodeOf = (river: River, id: string): PlacedNode | undefined => river.nodes.find((placed) => placed.id === id);

test('suppliers stand left, customers right, batches between', () => {
  const river = layoutTrace(story, { width: 1180 });
  expect(['R-0311', 'R-0298', 'B-0417', 'B-0418', 'F-0031', 'C-014', 'on hand'].map((id) => columnOf(river, id))).toEqual([
    0, 0, 1, 2, 3, 4, 4,
  ]);
  expect(river.columns).toBe(5);
  expect(nodeOf(river, 'C-014')).toMatchObject({ shortLabel: 'C-014', foldedCount: 1, members: ['C-014'] });
});

test('widths are to scale', () => {
  const { links } = layoutTrace(story, { width: 1180 });
  const width = (source: string, target: string): number => links.find((l) => l.source === source && l.target === target)?.width ?? 0;
  expect(width('R-0298', 'B-0417') / width('B-0417', 'B-0418')).toBeCloseTo(620 / 28, 1);
  expect(width('F-0031', 'C-014') / width('F-0031', 'on hand')).toBeCloseTo(700 / 390, 1);
});

test('parallel links become one band, affected and clean apart', () => {
  const { links } = layoutTrace(
    { nodes: [node('a', 'lot'), node('b', 'lot')], links: [link('a', 'b', 2, true), link('a', 'b', 3, true), link('a', 'b', 7)] },
    { width: 500 },
  );
  expect(links.map(({ affected, value, count }) => ({ affected, value, count }))).toEqual([
    { affected: false, value: 7, count: 1 },
    { affected: true, value: 5, count: 2 },
  ]);
});

test('rework into an earlier batch is drawn back, and the younger end is where the circle is cut', () => {
  const reworked = { nodes: story.nodes, links: [...story.links, link('F-0031', 'B-0418', 12, true), link('B-0417', 'B-0417', 3)] };
  const river = layoutTrace(reworked, { width: 1180 });
  expect(river.backLinks.map(({ source, target }) => `${source} > ${target}`)).toEqual(
    expect.arrayContaining(['F-0031 > B-0418', 'B-0417 > B-0417']),
  );
  expect(river.backLinks).toHaveLength(2);
  expect(river.links).toHaveLength(story.links.length);
  expect(columnOf(river, 'F-0031')).toBe(3);
  expect(river.height).toBeGreaterThan(layoutTrace(story, { width: 1180 }).height);
});

test('nothing, one node, one column', () => {
  expect(layoutTrace({ nodes: [], links: [] }, { width: 300 })).toMatchObject({
    nodes: [],
    links: [],
    backLinks: [],
    columns: 0,
    totalNodes: 0,
  });
  const one = layoutTrace({ nodes: [node('a', 'customer')], links: [] }, { width: 300 });
  expect(one.nodes).toHaveLength(1);
  expect(Number.isFinite(one.nodes[0]?.x)).toBe(true);
  const column = layoutTrace({ nodes: ['a', 'b', 'c'].map((id) => node(id, 'lot')), links: [] }, { width: 300 });
  expect(new Set(column.nodes.map(({ x }) => x)).size).toBe(1);
  expect(overlapping(column.nodes)).toEqual([]);
  const loop = layoutTrace({ nodes: [node('a', 'lot')], links: [link('a', 'a', 5)] }, { width: 300 });
  expect(loop.backLinks).toHaveLength(1);
  const dry = layoutTrace({ nodes: [node('a', 'lot'), node('b', 'lot')], links: [link('a', 'b', 0)] }, { width: 300 });
  expect(dry.links[0]?.width).toBe(1);
});

function crowd(customers: number): RiverGraph {
  const ids = Array.from({ length: customers }, (_, i) => `C-${`${i}`.padStart(5, '0')}`);
  return {
    nodes: [node('F', 'lot', { affectedShare: 1 }), ...ids.map((id) => node(id, 'customer', { affectedShare: 1 }))],
    links: ids.map((id, i) => link('F', id, 1 + (i % 7), true)),
  };
}

test('the picture grows with its fullest column', () => {
  const [small, large] = [layoutTrace(crowd(10), { width: 900 }), layoutTrace(crowd(100), { width: 900 })];
  expect(large.height).toBeGreaterThan(small.height + 80 * 28);
  expect(overlapping(large.nodes)).toEqual([]);
});

test('refused: two nodes of one id, a link to nowhere, a width that is none', () => {
  expect(() => layoutTrace({ nodes: [node('a', 'lot'), node('a', 'lot')], links: [] }, { width: 9 })).toThrow('two nodes a');
  expect(() => layoutTrace({ nodes: [node('a', 'lot')], links: [link('a', 'b')] }, { width: 9 })).toThrow('names b');
  for (const value of [-1, NaN, Infinity]) {
    expect(() => layoutTrace({ nodes: [node('a', 'lot')], links: [link('a', 'a', value)] }, { width: 9 })).toThrow('no width');
  }
});
