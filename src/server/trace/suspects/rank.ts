import type { SpanSet } from '../../../../shared/spans.js';
import { fisherGreater, type TwoByTwo } from '../../../../shared/statistics/fisher-exact.js';
import { holmAdjusted } from '../../../../shared/statistics/holm.js';
import type { Genealogy } from '../genealogy.js';
import type { Traced } from '../traced.js';
import { type AtomSet, hashOf, isEmpty, sameAtoms } from './atoms.js';
import { ExposureGraph } from './exposure-graph.js';
import { type Exposures, exposuresOf } from './exposures.js';
import type { PiecesOfLot, Population } from './population.js';

/** Something that may be to blame, as the parts of lots it had a hand in: what holds any of them is exposed to it. */
export interface Candidate {
  /** Null spans: the whole lot. */
  readonly parts: readonly { readonly lot: number; readonly spans: SpanSet | null }[];
}

/** Candidates that exactly the same pieces were exposed to: nothing in the record tells them apart. */
export interface SuspectGroup<C extends Candidate> {
  /** In the order they were given. */
  readonly candidates: readonly C[];
  readonly table: TwoByTwo;
  readonly p: number;
  readonly logP: number;
  /** By Holm, over the groups. */
  readonly adjustedP: number;
  /** 1 for the most over-represented; the same for groups that are equally so. */
  readonly rank: number;
}

export interface Ranking<C extends Candidate> {
  /** Most over-represented first. */
  readonly groups: readonly SuspectGroup<C>[];
  /** Candidates that every piece of the population was exposed to: that failures were too says nothing. */
  readonly everywhere: readonly C[];
  /** How many candidates any piece of the population was exposed to. */
  readonly candidates: number;
}

/** Candidates looked at between two pauses. */
const SLICE = 100;

/**
 * Ranks candidates by how much over-represented they are among failed pieces of a population: Fisher's exact test of each group that can be
 * told apart, adjusted by Holm for how many there are. Gives way between slices of a few milliseconds; what is asked is committed, so
 * nothing that is recorded in between changes the answer.
 * @param reached the backward trace from the population
 * @param failed pieces of the population
 * @see docs/rules/trace.md T-15, docs/suspects.md
 */
export function* rankSuspects<C extends Candidate>(
  genealogy: Genealogy,
  reached: Traced,
  population: Population,
  failed: readonly PiecesOfLot[],
  candidates: readonly C[],
): Generator<void, Ranking<C>> {
  const graph = new ExposureGraph(genealogy, reached, population);
  // The population's own pieces are nodes too, so that each is in some stretch.
  for (const { lot, spans } of population.parts) for (const [first, last] of spans) graph.nodeOf(lot, first, last);
  const nodes: number[][] = [];
  for (const { parts } of candidates) {
    nodes.push(parts.flatMap(({ lot, spans }) => nodesOf(graph, lot, spans)));
    if (nodes.length % SLICE === 0) yield;
  }
  yield* graph.expand();
  const places = population.placesOf(failed);
  const exposures = yield* exposuresOf(graph, places);
  const sets: AtomSet[] = [];
  for (const own of nodes) {
    sets.push(exposures.atoms.union([...new Set(own.map((node) => exposures.sets[node]!))], []));
    if (sets.length % SLICE === 0) yield;
  }
  const told = yield* toldApart(exposures, sets, candidates);
  return ranked(told, population.size, places.length);
}

/** The ranking in one go. */
export function rankNow<C extends Candidate>(...asked: Parameters<typeof rankSuspects<C>>): Ranking<C> {
  const slices = rankSuspects(...asked);
  for (;;) {
    const slice = slices.next();
    if (slice.done) return slice.value;
  }
}

function nodesOf(graph: ExposureGraph, lot: number, spans: SpanSet | null): number[] {
  if (graph.reached.get(lot) === undefined) return [];
  const pieces = graph.genealogy.piecesOf(lot);
  if (pieces === 0) return [graph.nodeOf(lot, 0, 0)];
  return (spans ?? [[1, pieces]]).map(([first, last]) => graph.nodeOf(lot, first, last));
}

interface Told<C> {
  readonly set: AtomSet;
  readonly candidates: C[];
  readonly pieces: number;
  readonly failed: number;
}

function* toldApart<C>({ atoms }: Exposures, sets: readonly AtomSet[], candidates: readonly C[]): Generator<void, Told<C>[]> {
  const byHash = new Map<number, Told<C>[]>();
  const all: Told<C>[] = [];
  for (const [at, candidate] of candidates.entries()) {
    const set = sets[at]!;
    if (isEmpty(set)) continue;
    const hash = hashOf(set);
    const alike = byHash.get(hash) ?? [];
    byHash.set(hash, alike);
    const same = alike.find((one) => sameAtoms(one.set, set));
    if (same === undefined) {
      const told = { set, candidates: [candidate], ...atoms.tally(set) };
      alike.push(told);
      all.push(told);
    } else same.candidates.push(candidate);
    if (at % SLICE === SLICE - 1) yield;
  }
  return all;
}

function ranked<C extends Candidate>(told: readonly Told<C>[], size: number, failures: number): Ranking<C> {
  const tested = told.filter(({ pieces }) => pieces < size);
  const known = new Map<string, { readonly p: number; readonly logP: number }>();
  const results = tested.map(({ candidates, pieces, failed }) => {
    const table = {
      exposedFailed: failed,
      exposedSound: pieces - failed,
      unexposedFailed: failures - failed,
      unexposedSound: size - pieces - (failures - failed),
    };
    const key = `${failed}/${pieces}`;
    const result = known.get(key) ?? fisherGreater(table);
    known.set(key, result);
    return { candidates, table, ...result };
  });
  const adjusted = holmAdjusted(results.map(({ p }) => p));
  const sorted = results
    .map((result, at) => ({ ...result, adjustedP: adjusted[at]! }))
    .toSorted((a, b) => a.logP - b.logP || b.table.exposedFailed - a.table.exposedFailed);
  let rank = 0;
  const groups = sorted.map((group, at): SuspectGroup<C> => {
    if (at === 0 || group.logP !== sorted[at - 1]!.logP) rank = at + 1;
    return { ...group, rank };
  });
  const everywhere = told.filter(({ pieces }) => pieces === size).flatMap(({ candidates }) => candidates);
  return { groups, everywhere, candidates: told.reduce((sum, one) => sum + one.candidates.length, 0) };
}
