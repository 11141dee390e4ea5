import { MICRO } from '../quantity.js';
import { column, echo, figure, type Computed } from './computed.js';
import { MeasurementFault } from './measurement-fault.js';
import type { Method, Row } from './method.js';
import { roundMicro, TO_THE_MILLIONTH, type Rounding } from './rounding.js';

/**
 * Density from mass and volume, in kilograms per litre: the mean over the pairs of mass / volume, exact until it is
 * rounded once. g/mL is kg/L, so only a pair of unlike size is scaled.
 * @throws MeasurementFault when there is no pair, or a mass or volume is not more than nothing
 */
export function density(method: Extract<Method, { kind: 'density' }>, rows: readonly Row[], rounding: Rounding): Computed {
  const masses = column(rows, 'mass');
  const volumes = column(rows, 'volume');
  if (rows.length === 0) throw new MeasurementFault('a density needs a mass and a volume', '');
  const kilograms = method.massUnit === 'kg' ? 1_000n : 1n;
  const litres = method.volumeUnit === 'L' ? 1_000n : 1n;
  const ratios = masses.map((mass, i) => {
    const volume = volumes[i] ?? 0;
    if (mass <= 0) throw new MeasurementFault('a mass is more than nothing', `/${i}/mass`);
    if (volume <= 0) throw new MeasurementFault('a volume is more than nothing', `/${i}/volume`);
    return { numerator: BigInt(mass) * kilograms * BigInt(MICRO), denominator: BigInt(volume) * litres };
  });
  const total = ratios.reduce((a, b) => ({
    numerator: a.numerator * b.denominator + b.numerator * a.denominator,
    denominator: a.denominator * b.denominator,
  }));
  const valueMicro = roundMicro(total.numerator, total.denominator * BigInt(ratios.length), rounding);
  const each = ratios.map(({ numerator, denominator }, i) =>
    figure(`density-${i + 1}`, `mass / volume of pair ${i + 1}`, roundMicro(numerator, denominator, TO_THE_MILLIONTH), 'kg/L'),
  );
  return {
    kind: 'density',
    valueMicro,
    unit: 'kg/L',
    inputs: echo(rows),
    figures: each,
    cautions: ['density changes with temperature: mass and volume belong to the temperature of the method'],
  };
}
