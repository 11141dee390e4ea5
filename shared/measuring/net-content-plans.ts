import { MeasurementFault } from './measurement-fault.js';

/** What a net content check asks for: how many packages, how many may be short, and how the mean is judged. */
export interface NetContentPlan {
  /** Packages to measure. */
  readonly sample: number;
  /** Packages that may be short by more than the tolerable deficiency. */
  readonly allowedShort: number;
  /** The first so many packages, in the order taken, from which mean and spread are worked out. */
  readonly meanSample: number;
  /** Thousandths of k in mean ≥ nominal − k·s; 0 when the mean itself must reach the nominal quantity. */
  readonly kThousandths: number;
}

// k = t(0.995, n − 1) / √n to three decimals, as Directive 76/211/EEC annex II and SI 2006/659 schedule 2 paragraph 4 print it.
const K_BY_MEAN_SAMPLE = { 20: 640, 30: 503, 50: 379 } as const;

const SMALLEST_BATCH = 100;

/**
 * The plan of the reference test of Directive 76/211/EEC annex II and SI 2006/659 schedule 2, single sampling.
 * @param batchSize packages in the batch, of which `destructive` says whether measuring spoils them
 * @throws MeasurementFault when no plan is laid down for it
 */
export function referencePlan(batchSize: number, destructive: boolean): NetContentPlan {
  if (!Number.isSafeInteger(batchSize) || batchSize < 1)
    throw new MeasurementFault('the batch is a whole number of packages', '/batchSize');
  if (destructive) {
    if (batchSize < SMALLEST_BATCH) {
      throw new MeasurementFault('a destructive reference test is laid down for batches of 100 packages and more', '/batchSize');
    }
    return { sample: 20, allowedShort: 1, meanSample: 20, kThousandths: K_BY_MEAN_SAMPLE[20] };
  }
  if (batchSize < SMALLEST_BATCH) {
    // All are measured: the mean is known, not estimated, and 5 % may be short.
    return { sample: batchSize, allowedShort: Math.floor(batchSize / 20), meanSample: batchSize, kThousandths: 0 };
  }
  if (batchSize <= 500) return { sample: 50, allowedShort: 3, meanSample: 30, kThousandths: K_BY_MEAN_SAMPLE[30] };
  if (batchSize <= 3_200) return { sample: 80, allowedShort: 5, meanSample: 50, kThousandths: K_BY_MEAN_SAMPLE[50] };
  return { sample: 125, allowedShort: 7, meanSample: 50, kThousandths: K_BY_MEAN_SAMPLE[50] };
}

/**
 * The packer's own check of any number of packages. One in forty may be short when the plan revision names no number:
 * "generally no more than 2.5 %", Trading Standards guidance notes on average quantity (tradingstandards.gov.uk).
 */
export function packerPlan(sample: number, allowedShort = Math.floor(sample / 40)): NetContentPlan {
  return { sample, allowedShort, meanSample: sample, kThousandths: 0 };
}
