import type { Breath } from './breath.js';
import { groupRows, type Grouped } from './columns.js';
import type { Faults } from './faults.js';
import { type Folder, NOT_GIVEN } from './folder.js';

/** A way between two lots that the plant has recorded already. */
export interface PlantPath {
  readonly from: number;
  readonly to: number;
}

/**
 * No lot is its own ancestor, save through rework or repacking: what is left of the links without those has no cycle.
 * @see docs/rules/import.md I-13
 */
export async function checkAncestry(folder: Folder, paths: readonly PlantPath[], faults: Faults, breath: Breath): Promise<void> {
  const edges = new Edges(folder, paths);
  await edges.group(breath);
  const open = await untangle(edges, breath);
  if (open === 0) return;
  const reported = new Set<number>();
  for (let edge = 0; edge < edges.count; edge++) {
    if (breath.due()) await breath.take();
    const from = edges.from(edge);
    if (from === NOT_GIVEN || edges.done[from] === 1 || edges.done[edges.to(edge)] === 1 || reported.has(from)) continue;
    const cycle = edges.wayBack(edge);
    if (cycle === null) continue;
    for (const lot of cycle.map((way) => edges.from(way))) reported.add(lot);
    report(folder, edges, cycle, faults);
  }
}

/** Takes out every lot that no cycle leads to; answers how many are left. */
async function untangle(edges: Edges, breath: Breath): Promise<number> {
  const into = new Int32Array(edges.lots);
  for (let edge = 0; edge < edges.count; edge++) {
    if (breath.due()) await breath.take();
    if (edges.from(edge) !== NOT_GIVEN) into[edges.to(edge)]!++;
  }
  const free: number[] = [];
  for (let lot = 0; lot < edges.lots; lot++) if (into[lot] === 0) free.push(lot);
  let left = edges.lots;
  for (let lot = free.pop(); lot !== undefined; lot = free.pop()) {
    if (breath.due()) await breath.take();
    edges.done[lot] = 1;
    left -= 1;
    for (const edge of edges.outOf(lot)) {
      const to = edges.to(edge);
      into[to]!--;
      if (into[to] === 0) free.push(to);
    }
  }
  return left;
}

/** Links of the files, then paths of the plant, as edges between lots; links by rework and repacking are left out. */
class Edges {
  readonly count: number;
  readonly lots: number;
  /** 1 for a lot that is on no cycle and behind none. */
  readonly done: Uint8Array;
  #out: Grouped = { starts: new Int32Array(1), rows: new Int32Array(0) };

  constructor(
    readonly folder: Folder,
    readonly paths: readonly PlantPath[],
  ) {
    this.count = folder.links.count + paths.length;
    this.lots = folder.lotNames.count;
    this.done = new Uint8Array(this.lots);
  }

  /** Groups the edges by the lot they lead out of. */
  async group(breath: Breath): Promise<void> {
    this.#out = await groupRows(this.count, this.lots, (edge) => this.from(edge), breath);
  }

  isLink(edge: number): boolean {
    return edge < this.folder.links.count;
  }

  from(edge: number): number {
    const { links, runs } = this.folder;
    if (!this.isLink(edge)) return this.paths[edge - links.count]!.from;
    if (links.sound.at(edge) === 0) return NOT_GIVEN;
    const { kind } = runs[links.run.at(edge)]!;
    return kind === 'rework' || kind === 'repacking' ? NOT_GIVEN : links.from.at(edge);
  }

  to(edge: number): number {
    const { links } = this.folder;
    return this.isLink(edge) ? links.to.at(edge) : this.paths[edge - links.count]!.to;
  }

  outOf(lot: number): Int32Array {
    return this.#out.rows.subarray(this.#out.starts[lot], this.#out.starts[lot + 1]);
  }

  /** The shortest cycle that begins with this edge, edge by edge; null when there is none. */
  wayBack(edge: number): number[] | null {
    const start = this.from(edge);
    const cameBy = new Map<number, number>([[this.to(edge), edge]]);
    const queue = [this.to(edge)];
    for (let i = 0; i < queue.length && !cameBy.has(start); i++) {
      for (const next of this.outOf(queue[i] as number)) {
        const to = this.to(next);
        if (this.done[to] === 1 || cameBy.has(to)) continue;
        cameBy.set(to, next);
        queue.push(to);
      }
    }
    if (!cameBy.has(start)) return null;
    const cycle: number[] = [];
    for (let at = start; ;) {
      const by = cameBy.get(at) as number;
      cycle.unshift(by);
      at = this.from(by);
      if (at === start) return cycle;
    }
  }
}

/** The fault stands at the last of the rows that close the circle; the lots are named in their order. */
function report(folder: Folder, edges: Edges, cycle: readonly number[], faults: Faults): void {
  const rows = cycle.filter((edge) => edges.isLink(edge));
  const last = Math.max(...rows);
  const name = (lot: number): string => folder.lotNames.text(lot);
  const shown = cycle.length > 12 ? [...cycle.slice(0, 11), cycle.at(-1)!] : cycle;
  const around = [name(edges.from(cycle[0]!)), ...shown.map((edge) => name(edges.to(edge)))].join(' → ');
  const lines = rows.slice(0, 12).map((row) => folder.links.line.at(row));
  const where = lines.length === 1 ? `line ${lines[0]}` : `lines ${lines.toSorted((a, b) => a - b).join(', ')}`;
  faults.add(
    { file: 'links.csv', line: folder.links.line.at(last), column: 'from_lot', value: name(edges.from(last)) },
    'own-ancestor',
    `${name(edges.from(last))} would be its own ancestor: ${around} (${where}); only rework and repacking may lead back`,
  );
}
