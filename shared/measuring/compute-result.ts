import { colourResult } from './colour-difference.js';
import type { Computed } from './computed.js';
import { density } from './density.js';
import { MeasurementFault } from './measurement-fault.js';
import { methodFaults } from './method-faults.js';
import type { Method, Row } from './method.js';
import { netContent } from './net-content.js';
import { mean, range, single } from './replicates.js';
import type { Rounding } from './rounding.js';

/** What goes with the readings beside the method. */
export interface Taking {
  readonly rounding: Rounding;
  /** How many lines the characteristic asks for; any number when it says nothing. The batch decides it for the reference test. */
  readonly replicates?: number | undefined;
  /** Packages in the batch, for the reference test of net content. */
  readonly batchSize?: number | undefined;
}

type Compute = {
  readonly [Kind in Method['kind']]: (method: Extract<Method, { kind: Kind }>, rows: readonly Row[], taking: Taking) => Computed;
};

const COMPUTE: Compute = {
  single: (_method, rows, { rounding }) => single(rows, rounding),
  mean: (_method, rows, { rounding }) => mean(rows, rounding),
  range: (_method, rows, { rounding }) => range(rows, rounding),
  density: (method, rows, { rounding }) => density(method, rows, rounding),
  'colour-difference': (method, rows, { rounding }) => colourResult(method, rows, rounding),
  'net-content': (method, rows, { rounding, batchSize }) => netContent(method, rows, rounding, batchSize),
};

const isCountedByBatch = (method: Method): boolean => method.kind === 'net-content' && method.rules.set === 'reference';

/**
 * Works out a result from what was read. The value is exact until it is rounded once, by the characteristic's rule.
 * @param rows the lines read, in millionths; `readRows` makes them from texts
 * @throws MeasurementFault when the lines are not those the method asks for
 * @throws RangeError when the result is too large to keep exactly
 */
export function computeResult(method: Method, rows: readonly Row[], taking: Taking): Computed {
  const [fault] = methodFaults(method);
  if (fault) throw fault;
  const { replicates } = taking;
  if (replicates !== undefined && !isCountedByBatch(method) && rows.length !== replicates) {
    throw new MeasurementFault(`${replicates} ${replicates === 1 ? 'reading is' : 'readings are'} taken, not ${rows.length}`, '');
  }
  const compute = COMPUTE[method.kind] as (method: Method, rows: readonly Row[], taking: Taking) => Computed;
  return compute(method, rows, taking);
}
