import { normalise } from '../flat-spans.js';
import type { Genealogy } from '../genealogy.js';
import { EACH, LOT_MASK, STRIDE } from '../link-table.js';
import type { Traced } from '../traced.js';
import { LotOutlets } from './lot-outlets.js';
import type { Population } from './population.js';

/** A stretch of a lot's pieces, or a bulk lot, from which links lead on towards the population. */
interface ExposureNode {
  readonly lot: number;
  readonly first: number;
  readonly last: number;
  /** Places in the population that it is or leads to directly: from-to pairs, normal once expanded. */
  readonly places: number[];
  /** Nodes it leads to. */
  next: readonly number[];
}

/** Nodes expanded between two pauses. */
const SLICE = 400;

/**
 * Which stretches of which lots lead to which, as far as it matters to a population: one node for every stretch that a link or a candidate
 * names. What a node leads to does not depend on who asks, so it is worked out once for all candidates; and what a backward trace from the
 * population does not reach is never looked at.
 */
export class ExposureGraph {
  readonly nodes: ExposureNode[] = [];
  readonly #ids = new Map<string, number>();
  readonly #outlets: LotOutlets;
  #expanded = 0;

  /** @param reached the backward trace from the population */
  constructor(
    readonly genealogy: Genealogy,
    readonly reached: Traced,
    readonly population: Population,
  ) {
    this.#outlets = new LotOutlets(genealogy, reached);
  }

  /** The node of a stretch; 0 and 0 for a bulk lot. It leads nowhere until `expand` has run. */
  nodeOf(lot: number, first: number, last: number): number {
    const key = `${lot}:${first}-${last}`;
    const known = this.#ids.get(key);
    if (known !== undefined) return known;
    const id = this.nodes.length;
    this.nodes.push({ lot, first, last, places: [], next: [] });
    this.#ids.set(key, id);
    return id;
  }

  /** Follows every node to all it leads to, giving way between slices. */
  *expand(): Generator<void, void> {
    for (; this.#expanded < this.nodes.length; this.#expanded++) {
      this.#expandNode(this.nodes[this.#expanded]!);
      if (this.#expanded % SLICE === SLICE - 1) yield;
    }
  }

  #expandNode(node: ExposureNode): void {
    const { lot, first, last } = node;
    const next = new Set<number>();
    if (first > 0) this.#lead(node, lot, first, last);
    const { words } = this.genealogy.table;
    for (const row of this.#outlets.meeting(lot, first, last)) {
      const word = row * STRIDE;
      const flags = words[word] ?? 0;
      const to = (words[word + 3] ?? 0) & LOT_MASK;
      let [toFirst, toLast] = [words[word + 4] ?? 0, words[word + 5] ?? 0];
      if ((flags & EACH) !== 0) {
        const shift = toFirst - (words[word + 1] ?? 0);
        toLast = Math.min(toLast, last + shift);
        toFirst = Math.max(toFirst, first + shift);
      }
      // Most pieces of the population go no further, and need no node of their own.
      if (this.#outlets.of(to).rows.length === 0) this.#lead(node, to, toFirst, toLast);
      else next.add(this.nodeOf(to, toFirst, toLast));
    }
    normalise(node.places);
    node.next = [...next];
  }

  #lead(node: ExposureNode, lot: number, first: number, last: number): void {
    const places = this.population.places(lot, first, last);
    if (places !== null) node.places.push(places[0], places[1]);
  }
}
