import { formatQuantity, MICRO } from '../quantity.js';
import { column, echo, figure, type Computed, type Figure, type RuleVerdict } from './computed.js';
import { MeasurementFault } from './measurement-fault.js';
import type { NetContentMethod, Row } from './method.js';
import { packerPlan, referencePlan, type NetContentPlan } from './net-content-plans.js';
import { sampleVariance } from './replicates.js';
import { rootMicro, roundMicro, TO_THE_MILLIONTH, type Rounding } from './rounding.js';
import { tolerableDeficiency } from './tolerable-deficiency.js';

/** Contents as exact ratios: `parts[i] / per` is millionths of a gram or millilitre. */
interface Contents {
  readonly parts: readonly bigint[];
  readonly per: bigint;
}

/** The finding in g or mL, whatever the label's unit is. */
interface Finding {
  readonly nominal: bigint;
  readonly tolerance: bigint;
  readonly unit: 'g' | 'mL';
  readonly shortByT: number;
  readonly shortBy2T: number;
}

/**
 * Net content of filled packages by the average system: the mean, how many packages are short by more than the tolerable
 * deficiency T and by more than 2T, and whether the rules are kept. Every comparison is exact; a package exactly T short
 * is not short by more than T.
 * @param batchSize packages in the batch; needed for the reference test
 * @returns the mean in the label's unit, and a verdict with a sentence for each rule
 * @throws MeasurementFault when the readings are not those the rules ask for
 * @see docs/measuring.md for the sources; local law decides which rules bind
 */
export function netContent(method: NetContentMethod, rows: readonly Row[], rounding: Rounding, batchSize?: number): Computed {
  const plan = planFor(method, rows.length, batchSize);
  const small = method.unit === 'kg' || method.unit === 'L' ? 1_000n : 1n;
  const contents = contentsOf(method, rows, small);
  const nominal = BigInt(method.nominalMicro) * small;
  const tolerance = BigInt(tolerableDeficiency(Number(nominal)));
  const shortBy = (times: bigint) => contents.parts.filter((part) => part < (nominal - times * tolerance) * contents.per).length;
  const unit = method.unit === 'kg' || method.unit === 'g' ? 'g' : 'mL';
  const finding = { nominal, tolerance, unit, shortByT: shortBy(1n), shortBy2T: shortBy(2n) } as const;
  const averaged = { parts: contents.parts.slice(0, plan.meanSample), per: contents.per };
  return {
    kind: method.kind,
    valueMicro: roundMicro(total(averaged), averaged.per * BigInt(plan.meanSample) * small, rounding),
    unit: method.unit,
    inputs: echo(rows),
    figures: figuresOf(finding, plan, contents, averaged),
    cautions: cautionsFor(method, tolerance, batchSize),
    verdict: judge(finding, plan, averaged),
  };
}

function planFor(method: NetContentMethod, read: number, batchSize: number | undefined): NetContentPlan {
  if (method.rules.set === 'packer') {
    if (read < 1) throw new MeasurementFault('net content needs at least one package', '');
    return packerPlan(read, method.rules.allowedShort);
  }
  if (batchSize === undefined) throw new MeasurementFault('the reference test needs to know how many packages the batch has', '/batchSize');
  const plan = referencePlan(batchSize, method.rules.destructive);
  if (read !== plan.sample) throw new MeasurementFault(`a batch of ${batchSize} calls for ${plan.sample} packages; ${read} were read`, '');
  return plan;
}

function contentsOf(method: NetContentMethod, rows: readonly Row[], small: bigint): Contents {
  const per = BigInt(method.densityMicro ?? MICRO);
  return { parts: netOf(method, rows).map((net) => net * small * BigInt(MICRO)), per };
}

function netOf(method: NetContentMethod, rows: readonly Row[]): bigint[] {
  const [first, last] = method.weighed === 'net' ? [column(rows, 'net'), null] : [column(rows, 'gross'), column(rows, 'tare')];
  return first.map((value, i) => {
    const tare = last?.[i] ?? 0;
    if (tare < 0) throw new MeasurementFault('a tare is not less than nothing', `/${i}/tare`);
    if (value < tare) {
      throw new MeasurementFault(
        last ? 'gross is less than tare' : 'a content is not less than nothing',
        `/${i}/${last ? 'gross' : 'net'}`,
      );
    }
    return BigInt(value) - BigInt(tare);
  });
}

const total = ({ parts }: Contents): bigint => parts.reduce((a, b) => a + b, 0n);

/** mean ≥ nominal − k·s without a root: both sides squared, in whole numbers. */
function meanReaches(nominal: bigint, { kThousandths }: NetContentPlan, averaged: Contents): boolean {
  const n = BigInt(averaged.parts.length);
  const missing = nominal * averaged.per * n - total(averaged);
  if (missing <= 0n) return true;
  if (kThousandths === 0) return false;
  const { numerator, denominator } = sampleVariance(averaged.parts);
  return missing * missing * denominator * 1_000_000n <= BigInt(kThousandths) ** 2n * numerator * n * n;
}

function judge(finding: Finding, plan: NetContentPlan, averaged: Contents): RuleVerdict {
  const { nominal, tolerance, unit, shortByT, shortBy2T } = finding;
  const reached = meanReaches(nominal, plan, averaged);
  const bar = plan.kThousandths === 0 ? 'the nominal quantity' : 'the nominal quantity less k times the standard deviation';
  const shown = (micro: bigint) => `${formatQuantity(Number(micro))} ${unit}`;
  const reasons = [
    { rule: 'mean', kept: reached, words: `the mean ${reached ? 'reaches' : 'does not reach'} ${bar}` },
    {
      rule: 'short-by-more-than-t',
      kept: shortByT <= plan.allowedShort,
      words: `${shortByT} of ${plan.sample} hold less than ${shown(nominal - tolerance)}; ${plan.allowedShort} may`,
    },
    {
      rule: 'short-by-more-than-2t',
      kept: shortBy2T === 0,
      words: `${shortBy2T} of ${plan.sample} hold less than ${shown(nominal - 2n * tolerance)}; none may`,
    },
  ];
  return { accepted: reasons.every(({ kept }) => kept), reasons };
}

function figuresOf(finding: Finding, plan: NetContentPlan, contents: Contents, averaged: Contents): Figure[] {
  const { nominal, tolerance, unit, shortByT, shortBy2T } = finding;
  const shown = (name: string, words: string, micro: number | bigint) => figure(name, words, Number(micro), unit);
  const n = BigInt(plan.meanSample);
  const mean = roundMicro(total(averaged), averaged.per * n, TO_THE_MILLIONTH);
  const least = contents.parts.reduce((a, b) => (b < a ? b : a));
  const figures = [
    { name: 'count', words: 'packages measured', value: `${plan.sample}` },
    { name: 'mean-of', words: 'packages the mean is taken from', value: `${plan.meanSample}` },
    shown('nominal', 'nominal quantity', nominal),
    shown('mean', 'mean content, to the millionth', mean),
    shown('least', 'least content of one package', roundMicro(least, contents.per, TO_THE_MILLIONTH)),
    shown('t', 'tolerable deficiency T', tolerance),
    shown('t1-limit', 'nominal less T', nominal - tolerance),
    shown('t2-limit', 'nominal less 2T', nominal - 2n * tolerance),
    { name: 'short-by-t', words: 'packages short by more than T', value: `${shortByT}` },
    { name: 'allowed-short', words: 'packages that may be', value: `${plan.allowedShort}` },
    { name: 'short-by-2t', words: 'packages short by more than 2T', value: `${shortBy2T}` },
  ];
  if (n < 2n) return figures;
  const { numerator, denominator } = sampleVariance(averaged.parts);
  const s = rootMicro(numerator, denominator * averaged.per * averaged.per);
  figures.push(shown('s', 'standard deviation, divisor n − 1', s));
  if (plan.kThousandths === 0) return figures;
  const limit = roundMicro(nominal * 1_000n - BigInt(plan.kThousandths) * BigInt(s), 1_000n, TO_THE_MILLIONTH);
  figures.push({ name: 'k', words: 'k = t(0.995, n − 1) / √n', value: formatQuantity(plan.kThousandths * 1_000) });
  return [...figures, shown('mean-limit', 'least mean that is accepted, nominal − k·s', limit)];
}

const LARGEST_BATCH = 10_000;

function cautionsFor(method: NetContentMethod, tolerance: bigint, batchSize: number | undefined): string[] {
  const volume = method.unit === 'mL' || method.unit === 'L';
  const cautions = [
    'the law of the place of sale decides which rules bind; these are those of Directive 76/211/EEC',
    `the error of the check must not pass one fifth of T, ${formatQuantity(roundMicro(tolerance, 5n, TO_THE_MILLIONTH))} ${volume ? 'mL' : 'g'}`,
  ];
  if (volume) cautions.push('a volume counts at 20 °C');
  if (method.rules.set === 'packer') cautions.push('the rule is for the average of the batch; the mean of a sample estimates it');
  if (method.rules.set === 'reference' && (batchSize ?? 0) > LARGEST_BATCH) {
    cautions.push('away from the end of the line a batch is at most 10 000 packages');
  }
  return cautions;
}
