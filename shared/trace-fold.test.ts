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
