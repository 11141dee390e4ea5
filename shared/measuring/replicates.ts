import { column, echo, figure, sum, type Computed, type Figure } from './computed.js';
import { MeasurementFault } from './measurement-fault.js';
import type { Row } from './method.js';
import { rootMicro, roundMicro, TO_THE_MILLIONTH, type Rounding } from './rounding.js';

/**
 * One reading, rounded as the characteristic says.
 * @throws MeasurementFault when there is not exactly one line
 */
export function single(rows: readonly Row[], rounding: Rounding): Computed {
  const [reading, ...more] = column(rows, 'value');
  if (reading === undefined || more.length > 0) throw new MeasurementFault(`one reading is taken, not ${rows.length}`, '');
  const valueMicro = roundMicro(BigInt(reading), 1n, rounding);
  return { kind: 'single', valueMicro, inputs: echo(rows), figures: [figure('reading', 'the reading', reading)], cautions: [] };
}

/**
 * The mean of the replicates, with their range beside it. The sum is exact and the mean is rounded once.
 * @throws MeasurementFault when there is no reading
 */
export function mean(rows: readonly Row[], rounding: Rounding): Computed {
  const readings = column(rows, 'value');
  if (readings.length === 0) throw new MeasurementFault('a mean needs at least one reading', '');
  const valueMicro = roundMicro(sum(readings), BigInt(readings.length), rounding);
  return { kind: 'mean', valueMicro, inputs: echo(rows), figures: spread(readings), cautions: [] };
}

/**
 * The range of the replicates: largest less smallest.
 * @throws MeasurementFault when there are fewer than two readings
 */
export function range(rows: readonly Row[], rounding: Rounding): Computed {
  const readings = column(rows, 'value');
  if (readings.length < 2) throw new MeasurementFault('a range needs at least two readings', '');
  const valueMicro = roundMicro(BigInt(Math.max(...readings)) - BigInt(Math.min(...readings)), 1n, rounding);
  return { kind: 'range', valueMicro, inputs: echo(rows), figures: spread(readings), cautions: [] };
}

function spread(readings: readonly number[]): Figure[] {
  const n = readings.length;
  const largest = Math.max(...readings);
  const smallest = Math.min(...readings);
  const figures: Figure[] = [
    { name: 'count', words: 'readings', value: `${n}` },
    figure('mean', 'mean, to the millionth', roundMicro(sum(readings), BigInt(n), TO_THE_MILLIONTH)),
    figure('smallest', 'smallest reading', smallest),
    figure('largest', 'largest reading', largest),
    figure('range', 'largest less smallest', roundMicro(BigInt(largest) - BigInt(smallest), 1n, TO_THE_MILLIONTH)),
  ];
  return n < 2 ? figures : [...figures, figure('s', 'standard deviation, divisor n − 1', sampleDeviation(readings))];
}

/**
 * The standard deviation of the readings with divisor n − 1, in millionths.
 * @throws RangeError when there are fewer than two readings
 */
function sampleDeviation(readings: readonly number[]): number {
  const { numerator, denominator } = sampleVariance(readings.map(BigInt));
  return rootMicro(numerator, denominator);
}

/**
 * The variance of whole numbers with divisor n − 1 as an exact ratio: (n·Σx² − (Σx)²) / n(n − 1).
 * @throws RangeError when there are fewer than two
 */
export function sampleVariance(values: readonly bigint[]): { numerator: bigint; denominator: bigint } {
  const n = BigInt(values.length);
  if (n < 2n) throw new RangeError('a spread needs at least two values');
  const total = values.reduce((a, b) => a + b, 0n);
  const squares = values.reduce((a, b) => a + b * b, 0n);
  return { numerator: n * squares - total * total, denominator: n * (n - 1n) };
}
