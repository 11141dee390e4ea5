import { expect, test } from 'vitest';
import type { RiverGraph, RiverLayer, RiverNode } from '../../../shared/trace-graph.js';
import { layoutTrace } from '../../../shared/trace-layout.js';
import { pathsOf, reachOf, stepFrom } from './river-paths.js';
import { columnHeads, foldLabel, noteOf, spokenName } from './river-words.js';

const node = (id: string, layer: RiverLayer, more: Partial<RiverNode> = {}): RiverNode => ({
  id,
  label: id,
  layer,
  kind: layer,
  quantityMicro: 1_000_000,
  affectedShare: 1,
  at: null,
  ...more,
});
const link = (source: string, target: string, value = 1) => ({ source, target, value, affected: true });

/** R goes into A and B, both into F, only A into G; F is with C and on hand. */
const GRAPH: RiverGraph = {
  nodes: [
    node('R', 'supplier-lot'),
    node('A', 'batch', { kind: 'mixture' }),
    node('B', 'batch', { kind: 'mixture' }),
    node('F', 'lot', { kind: 'filled' }),
    node('G', 'lot', { kind: 'filled' }),
    node('C', 'customer'),
    node('hand', 'whereabouts', { kind: 'on hand' }),
  ],
  links: [
    link('R', 'A', 2),
    link('R', 'B', 9),
    link('A', 'F', 5),
    link('B', 'F', 4),
    link('A', 'G'),
    link('F', 'C', 7),
    link('F', 'hand', 2),
  ],
};
const river = layoutTrace(GRAPH, { width: 900 });
const paths = pathsOf(river);

test('up- and downstream of a node is what came into it and what became of it, and nothing beside it', () => {
  const reach = reachOf('A', paths, GRAPH);
  expect([...reach.nodes].toSorted()).toEqual(['A', 'C', 'F', 'G', 'R', 'hand']);
  expect(
    river.links
      .filter((band) => reach.holdsBand(band))
      .map(({ source, target }) => `${source} ${target}`)
      .toSorted(),
  ).toEqual(['A F', 'A G', 'F C', 'F hand', 'R A']);
});

test('arrows go along the broadest band, come back the way they went, and stay within the column', () => {
  expect(stepFrom('R', 'ArrowRight', paths, null)).toBe('B');
  expect(stepFrom('F', 'ArrowLeft', paths, null)).toBe('A');
  expect(stepFrom('F', 'ArrowLeft', paths, 'B')).toBe('B');
  expect(stepFrom('R', 'ArrowLeft', paths, null)).toBeNull();
  const [first, second] = (paths.columns[1] ?? []).map(({ id }) => id);
  expect(stepFrom(first ?? '', 'ArrowDown', paths, null)).toBe(second);
  expect(stepFrom(first ?? '', 'ArrowUp', paths, null)).toBeNull();
  expect([stepFrom(second ?? '', 'Home', paths, null), stepFrom(first ?? '', 'End', paths, null)]).toEqual([first, second]);
});

test('columns say what they are, and folds from when to when', () => {
  expect(columnHeads(river)).toEqual(['Where it came from', 'Batches', 'Filled lots', 'Where it is now']);
  const lots = Array.from({ length: 9 }, (_, i) => node(`L-${i}`, 'batch', { kind: 'mixture', at: `2026-02-0${i + 1}T08:00:00.000Z` }));
  const [fold] = layoutTrace({ nodes: lots, links: [] }, { width: 900, maxNodes: 2, foldLabel }).nodes;
  expect(fold).toMatchObject({ label: '9 × batches', foldedCount: 9 });
  if (fold === undefined) throw new Error('nothing was folded');
  expect(noteOf(fold, (id) => id)).toBe('1–9\u00a0Feb\u00a02026');
  expect(spokenName(fold, (id) => id, 'affected')).toContain('9 × batches, 1–9');
});

test('rework is walked like every other band', () => {
  const reworked = layoutTrace({ nodes: GRAPH.nodes, links: [...GRAPH.links, link('F', 'A', 99)] }, { width: 900 });
  expect(stepFrom('F', 'ArrowRight', pathsOf(reworked), null)).toBe('A');
  expect(reachOf('G', pathsOf(reworked), { nodes: GRAPH.nodes, links: [...GRAPH.links, link('F', 'A', 99)] }).nodes.has('B')).toBe(true);
});

test('what goes into one lot of a fold does not light up what became of the others', () => {
  const graph: RiverGraph = {
    nodes: [
      node('R', 'supplier-lot'),
      node('Q', 'supplier-lot', { kind: 'packaging' }),
      ...['A', 'B'].map((id) => node(id, 'batch')),
      ...['X', 'Y'].map((id) => node(id, 'customer')),
    ],
    links: [link('R', 'A'), link('Q', 'B'), link('A', 'X'), link('B', 'Y')],
  };
  const folded = layoutTrace(graph, { width: 900, maxNodes: 5, keep: ['R', 'Q', 'X', 'Y'] });
  const fold = folded.nodes.find(({ foldedCount }) => foldedCount === 2)?.id ?? '';
  const reach = reachOf('R', pathsOf(folded), graph);
  expect([...reach.nodes].toSorted()).toEqual(['R', 'X', fold].toSorted());
  expect(folded.links.filter((band) => reach.holdsBand(band)).map(({ source, target }) => [source, target])).toEqual(
    expect.arrayContaining([
      ['R', fold],
      [fold, 'X'],
    ]),
  );
  expect(reach.holdsBand({ source: fold, target: 'Y' })).toBe(false);
  expect([...reachOf(fold, pathsOf(folded), graph).nodes].toSorted()).toEqual(['Q', 'R', 'X', 'Y', fold].toSorted());
});
