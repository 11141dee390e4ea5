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
  const solution = solve(equationsOf(component, unknowns));
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

/** Linear equations, row by row: `size` coefficients and then the constant. */
interface Equations {
  readonly size: number;
  readonly cells: Float64Array;
}

/**
 * The equations (I - A) x = b, where one step takes shares x to A x + b. The step is affine, so b is what it makes of nothing
 * and a column of A what one unknown adds to that. Only touched segments are unknown, and so there is one solution.
 */
function equationsOf(component: readonly ShareNode[], unknowns: readonly Unknown[]): Equations {
  const step = (one: Unknown | null): number[] => {
    for (const { node, segment } of unknowns) node.shares[segment] = 0;
    if (one) one.node.shares[one.segment] = 1;
    const stepped = new Map(component.map((node) => [node, node.evaluate()]));
    return unknowns.map(({ node, segment }) => stepped.get(node)?.[segment] ?? 0);
  };
  const size = unknowns.length;
  const cells = new Float64Array(size * (size + 1));
  const constants = step(null);
  for (const [row, constant] of constants.entries()) cells[row * (size + 1) + size] = constant;
  for (const [column, unknown] of unknowns.entries()) {
    for (const [row, value] of step(unknown).entries()) {
      cells[row * (size + 1) + column] = (row === column ? 1 : 0) - (value - (constants[row] ?? 0));
    }
  }
  return { size, cells };
}

/** Gaussian elimination; the rows are diagonally dominant, so there is no need to pivot. */
function solve({ size, cells }: Equations): Float64Array {
  const width = size + 1;
  const cell = (row: number, column: number): number => cells[row * width + column] ?? 0;
  for (let lead = 0; lead < size; lead++) {
    for (let row = lead + 1; row < size; row++) {
      const factor = cell(row, lead) / cell(lead, lead);
      if (factor === 0) continue;
      for (let column = lead; column < width; column++) cells[row * width + column] = cell(row, column) - factor * cell(lead, column);
    }
  }
  const solution = new Float64Array(size);
  for (let row = size - 1; row >= 0; row--) {
    let sum = cell(row, size);
    for (let column = row + 1; column < size; column++) sum -= cell(row, column) * (solution[column] ?? 0);
    solution[row] = sum / cell(row, row);
  }
  return solution;
}
