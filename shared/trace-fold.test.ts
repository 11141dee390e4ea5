import { expect, test } from 'vitest';
import type { RiverGraph, RiverLayer, RiverLink, RiverNode } from './trace-graph.js';
import { layoutTrace } from './trace-layout.js';

function node(id: string, layer: RiverLayer, more: Partial<RiverNode> = {}): RiverNode {
  return { id, label: id, layer, kind: layer, quantityMicro: 1_000_000, affectedShare: 0, at: null, ...more };
}

function link(source: string, target: string, value = 1, affected = false): RiverLink {
  return { source, target, value, affected };
}

function total<T>(list: readonly T[], of: (item: T) => number): number {
  return list.reduce((sum, item) => sum + of(item), 0);
}

function crowd(customers: number): RiverGraph {
  const ids = Array.from({ length: customers }, (_, i) => `C-${`${i}`.padStart(5, '0')}`);
  return {
    nodes: [node('F', 'lot', { affectedShare: 1 }), ...ids.map((id) => node(id, 'customer', { affectedShare: 1 }))],
    links: ids.map((id, i) => link('F', id, 1 + (i % 7), true)),
  };
}

/** The i-th heel: a thousand a month. */
function at(i: number): string {
  return `2026-${`${1 + Math.floor(i / 1000)}`.padStart(2, '0')}-01T00:00:${`${i % 60}`.padStart(2, '0')}.000Z`;
}

test('ten thousand customers fold into one that says so; the origin and what is kept do not', () => {
  const river = layoutTrace(crowd(10_000), { width: 900, keep: ['C-00007'] });
  expect(river.nodes.map(({ label, foldedCount }) => [label, foldedCount])).toEqual([
    ['C-00007', 1],
    ['F', 1],
    ['9999 × customer', 9999],
  ]);
  expect(river.totalNodes).toBe(10_001);
});

test('folding takes the largest likes by day first and leaves the rest', () => {
  const lots = Array.from({ length: 40 }, (_, i) =>
    node(`L-${i}`, 'supplier-lot', { kind: i < 30 ? 'lid' : 'oil', at: `2026-03-0${i < 20 ? 1 : 2}T08:00:00.000Z` }),
  );
  const graph = { nodes: [...lots, node('B', 'batch')], links: lots.map(({ id }) => link(id, 'B')) };
  const river = layoutTrace(graph, { width: 900, maxNodes: 25 });
  expect(river.nodes.filter((n) => n.foldedCount > 1).map((n) => n.label)).toEqual(['20 × lid, 2026-03-01']);
  expect(river.nodes).toHaveLength(22);
});

test('affected and clean lots do not fold together while they need not', () => {
  const lots = Array.from({ length: 40 }, (_, i) => node(`L-${i}`, 'supplier-lot', { affectedShare: i % 4 === 0 ? 1 : 0 }));
  const { nodes } = layoutTrace({ nodes: lots, links: [] }, { width: 900, maxNodes: 5 });
  expect(nodes.map((n) => [n.foldedCount, n.affectedShare])).toEqual(
    expect.arrayContaining([
      [10, 1],
      [30, 0],
    ]),
  );
});

test('a share of a fold is weighed by quantity', () => {
  const lots = [
    node('a', 'lot', { quantityMicro: 3_000_000, affectedShare: 1 }),
    node('b', 'lot', { quantityMicro: 1_000_000, affectedShare: 0.2 }),
  ];
  expect(layoutTrace({ nodes: lots, links: [] }, { width: 400, maxNodes: 1 }).nodes[0]).toMatchObject({
    affectedShare: 0.8,
    quantityMicro: 4_000_000,
  });
});

test('a chain of ten thousand heels is folded by month across columns, without a deep stack', () => {
  const chain = Array.from({ length: 10_000 }, (_, i) => node(`B-${i}`, 'batch', { at: at(i), affectedShare: 0.5 }));
  const graph = { nodes: chain, links: chain.slice(1).map(({ id }, i) => link(`B-${i}`, id, 2, true)) };
  const river = layoutTrace(graph, { width: 1180 });
  expect(river.nodes.map((n) => n.foldedCount)).toEqual(Array.from({ length: 10 }, () => 1000));
  expect(total(river.nodes, (n) => n.innerCount) + total(river.links, (l) => l.count)).toBe(9999);
  expect(river.backLinks).toEqual([]);
});

const foldsOf = (graph: RiverGraph, open: readonly string[] = []) =>
  layoutTrace(graph, { width: 900, maxNodes: 12, open }).nodes.filter(({ foldedCount }) => foldedCount > 1);

/** Fifty lids of one day, ninety of another, and cans, all into one batch. */
function delivered(): RiverGraph {
  const lots = Array.from({ length: 180 }, (_, i) =>
    node(`L-${`${i}`.padStart(3, '0')}`, 'supplier-lot', {
      kind: i < 140 ? 'lid' : 'can',
      at: `2026-03-0${i < 50 ? 1 : 2}T08:00:00.000Z`,
    }),
  );
  return { nodes: [...lots, node('B', 'batch')], links: lots.map(({ id }) => link(id, 'B')) };
}

test('an opened fold is drawn as its nodes and nothing else changes; closed again, all is as before', () => {
  const graph = delivered();
  const [closed, fifty] = [foldsOf(graph), foldsOf(graph).find(({ foldedCount }) => foldedCount === 50)];
  const river = layoutTrace(graph, { width: 900, maxNodes: 12, open: [fifty?.id ?? ''] });
  expect(river.opened).toEqual([{ id: fifty?.id, label: '50 × lid, 2026-03-01', count: 50 }]);
  expect(river.nodes.filter(({ within }) => within.includes(fifty?.id ?? '')).map(({ id }) => id)).toEqual(fifty?.members);
  expect(foldsOf(graph, [fifty?.id ?? ''])).toHaveLength(closed.length - 1);
  expect(total(river.nodes, (n) => n.foldedCount)).toBe(graph.nodes.length);
  expect(foldsOf(graph, ['no such fold'])).toEqual(closed);
});

test('an opened fold of many shows parts that open in their turn; the parts hide no node', () => {
  const graph = delivered();
  const ninety = foldsOf(graph).find(({ foldedCount }) => foldedCount === 90)?.id ?? '';
  const parts = foldsOf(graph, [ninety]).filter(({ within }) => within[0] === ninety);
  expect(parts.map(({ foldedCount }) => foldedCount)).toEqual([10, 10, 10, 10, 10, 10, 10, 10, 10]);
  const third = parts[2];
  const river = layoutTrace(graph, { width: 900, maxNodes: 12, open: [ninety, third?.id ?? ''] });
  expect(river.nodes.filter(({ within }) => within.at(-1) === third?.id).map(({ id }) => id)).toEqual(third?.members);
  expect(river.opened.map(({ count }) => count)).toEqual([90, 10]);
  expect(total(river.nodes, (n) => n.foldedCount)).toBe(graph.nodes.length);
  expect(total(river.links, (l) => l.count)).toBe(graph.links.length);
});
