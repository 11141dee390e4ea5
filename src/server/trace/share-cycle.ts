import type { ShareNode } from './share-graph.js';

const SWEEPS = 1_000;
const PATIENT_SWEEPS = 100_000;
/** Largest relative change in a sweep that counts as still: a few units in the last place of a 64-bit float. */
const STILL = 1e-15;
const MOST_UNKNOWNS = 600;

interface Unknown {
  readonly node: ShareNode;
  readonly segment: number;
}

/**
 * Settles the shares of lots that contain each other: from zero upwards, sweep by sweep, until nothing moves. A cycle that
 * gives nearly everything back to itself converges too slowly for that and is solved by elimination instead.
 * @returns false if the shares are still moving, which is then said and not hidden
 */
export function settleCycle(component: readonly ShareNode[]): boolean {
  if (sweepUntilStill(component, SWEEPS)) return true;
  const unknowns: Unknown[] = component.flatMap((node) =>
    Array.from(node.touched.keys())
      .filter((segment) => node.touched[segment] === 1 && node.isFixed[segment] === 0)
      .map((segment) => ({ node, segment })),
  );
  if (unknowns.length > MOST_UNKNOWNS) return sweepUntilStill(component, PATIENT_SWEEPS);
  const solution = solve(meansOf(unknowns));
  for (const [at, { node, segment }] of unknowns.entries()) node.shares[segment] = solution[at] ?? 0;
  return true;
}

function sweepUntilStill(component: readonly ShareNode[], sweeps: number): boolean {
  for (let sweep = 0; sweep < sweeps; sweep++) {
    let moved = 0;
    for (const node of component) {
      const touched = node.touched.slice();
      const shares = node.evaluate();
      for (let segment = 0; segment < shares.length; segment++) {
        const now = shares[segment] ?? 0;
        if (now > 0) moved = Math.max(moved, Math.abs(now - (node.shares[segment] ?? 0)) / now);
        if (touched[segment] !== node.touched[segment]) moved = 1;
      }
      node.shares = shares;
    }
    if (moved <= STILL) return true;
  }
  return false;
}

/**
 * Linear equations without a minus sign: x of a row is the mean, by weight, of the x of other rows (`weights`, row by row) and
 * of what is known from outside, which weighs `outside` in all and brings `given`. The weight of a row upon itself only
 * says that the rest decides: it is never read.
 */
interface Means {
  readonly size: number;
  readonly weights: Float64Array;
  readonly outside: Float64Array;
  readonly given: Float64Array;
}

const add = (values: Float64Array, at: number, amount: number): void => {
  values[at] = (values[at] ?? 0) + amount;
};

function meansOf(unknowns: readonly Unknown[]): Means {
  const size = unknowns.length;
  const means = { size, weights: new Float64Array(size * size), outside: new Float64Array(size), given: new Float64Array(size) };
  const rows = new Map<ShareNode, Map<number, number>>();
  for (const [row, { node, segment }] of unknowns.entries()) {
    const segments = rows.get(node) ?? new Map<number, number>();
    rows.set(node, segments.set(segment, row));
  }
  for (const [row, { node, segment }] of unknowns.entries()) {
    node.eachSource(segment, (source, sourceSegment, weight) => {
      const other = source && rows.get(source)?.get(sourceSegment);
      if (typeof other === 'number') {
        add(means.weights, row * size + other, weight);
        return;
      }
      add(means.outside, row, weight);
      add(means.given, row, weight * (source?.shares[sourceSegment] ?? 0));
    });
  }
  return means;
}

/**
 * Elimination that never subtracts (Grassmann, Taksar and Heyman 1985, "Regenerative analysis and steady state distributions
 * for Markov chains"): a pivot is the sum of what is left in its row, so that no digit is lost however much a cycle keeps.
 */
function solve({ size, weights, outside, given }: Means): Float64Array {
  const weight = (row: number, column: number): number => weights[row * size + column] ?? 0;
  const pivots = new Float64Array(size);
  for (let lead = size - 1; lead >= 0; lead--) {
    let pivot = outside[lead] ?? 0;
    for (let column = 0; column < lead; column++) pivot += weight(lead, column);
    pivots[lead] = pivot;
    for (let row = 0; row < lead; row++) {
      const factor = weight(row, lead) / pivot;
      if (factor === 0) continue;
      for (let column = 0; column < lead; column++) weights[row * size + column] = weight(row, column) + factor * weight(lead, column);
      outside[row] = (outside[row] ?? 0) + factor * (outside[lead] ?? 0);
      given[row] = (given[row] ?? 0) + factor * (given[lead] ?? 0);
    }
  }
  const solution = new Float64Array(size);
  for (let row = 0; row < size; row++) {
    let sum = given[row] ?? 0;
    for (let column = 0; column < row; column++) sum += weight(row, column) * (solution[column] ?? 0);
    solution[row] = sum / (pivots[row] ?? 1);
  }
  return solution;
}
