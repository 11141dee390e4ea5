/** The factors by which control limits are made from a mean range, for one subgroup size. */
interface ControlFactors {
  readonly n: number;
  /** Mean of the range of n values of a normal distribution, in standard deviations. */
  readonly d2: number;
  /** Standard deviation of that range. */
  readonly d3: number;
  /** Limits of a mean: R̄ times this to either side. */
  readonly A2: number;
  /** Lower limit of a range as a share of R̄; 0 where it would be negative. */
  readonly D3: number;
  /** Upper limit of a range as a share of R̄. */
  readonly D4: number;
  /** Limits of a single value: R̄ times this to either side. */
  readonly E2: number;
}

export const SMALLEST_SUBGROUP = 2;
export const LARGEST_SUBGROUP = 25;

/**
 * d2 and d3 for n = 2 … 25, worked out from their definition and kept to the digits that the published tables print
 * (d2 three decimals; Walpole et al. table A.22; ASTM MNL 7). The other factors are made from these, which is why they
 * agree with the printed tables in the last digit where the unrounded ones do not: D4 for n = 3 is 2.574.
 */
const RANGE_OF_NORMAL: readonly (readonly [d2: number, d3: number])[] = [
  [1.128, 0.8525],
  [1.693, 0.8884],
  [2.059, 0.8798],
  [2.326, 0.8641],
  [2.534, 0.848],
  [2.704, 0.8332],
  [2.847, 0.8198],
  [2.97, 0.8078],
  [3.078, 0.7971],
  [3.173, 0.7873],
  [3.258, 0.7785],
  [3.336, 0.7704],
  [3.407, 0.763],
  [3.472, 0.7562],
  [3.532, 0.7499],
  [3.588, 0.7441],
  [3.64, 0.7386],
  [3.689, 0.7335],
  [3.735, 0.7287],
  [3.778, 0.7242],
  [3.819, 0.7199],
  [3.858, 0.7159],
  [3.895, 0.7121],
  [3.931, 0.7084],
];

/**
 * The factors for subgroups of n.
 * @throws RangeError when n is not a whole number from 2 to 25
 * @see fixtures/standards/control-chart-constants.json
 */
export function controlFactors(n: number): ControlFactors {
  const [d2, d3] = RANGE_OF_NORMAL[n - SMALLEST_SUBGROUP] ?? [];
  if (d2 === undefined || d3 === undefined) throw new RangeError(`factors are tabled for subgroups of 2 to 25, not ${n}`);
  const sway = (3 * d3) / d2;
  return { n, d2, d3, A2: 3 / (d2 * Math.sqrt(n)), D3: Math.max(0, 1 - sway), D4: 1 + sway, E2: 3 / d2 };
}
