import { differenceCiede2000 } from 'culori/fn';
import { MICRO } from '../quantity.js';
import { column, echo, figure, sum, type Computed } from './computed.js';
import { MeasurementFault } from './measurement-fault.js';
import { labFaults } from './method-faults.js';
import type { LabMicro, Method, Row } from './method.js';
import { roundMicro, roundReal, TO_THE_MILLIONTH, type Rounding } from './rounding.js';

/** A colour in CIE 1976 L*a*b*. */
export interface Lab {
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

const ciede2000 = differenceCiede2000(1, 1, 1);

// The mode names the white point, which the formula does not use; naming the formula's own mode means nothing is converted.
const culoriLab = ({ l, a, b }: Lab) => ({ mode: 'lab65' as const, l, a, b });

/**
 * CIEDE2000 colour difference (ISO/CIE 11664-6) with parametric factors kL = kC = kH = 1. Either colour may come first.
 * @see fixtures/standards/ciede2000.json for the published pairs it is checked against
 */
export function colourDifference(one: Lab, other: Lab): number {
  return ciede2000(culoriLab(one), culoriLab(other));
}

/**
 * The colour difference between a sample and its standard. Several lines are readings of the one sample: their L*, a*
 * and b* are averaged first, then compared.
 * @throws MeasurementFault when there is no line, or a coordinate is not one an instrument gives
 */
export function colourResult(method: Extract<Method, { kind: 'colour-difference' }>, rows: readonly Row[], rounding: Rounding): Computed {
  if (rows.length === 0) throw new MeasurementFault('a colour difference needs a reading of the sample', '');
  const readings = { l: column(rows, 'l'), a: column(rows, 'a'), b: column(rows, 'b') };
  readings.l.forEach((lMicro, i) => {
    const [fault] = labFaults({ lMicro, aMicro: readings.a[i] ?? 0, bMicro: readings.b[i] ?? 0 }, `/${i}`);
    if (fault) throw fault;
  });
  const meanMicro = (values: readonly number[]) => roundMicro(sum(values), BigInt(values.length), TO_THE_MILLIONTH);
  const sample: LabMicro = { lMicro: meanMicro(readings.l), aMicro: meanMicro(readings.a), bMicro: meanMicro(readings.b) };
  const difference = colourDifference(inUnits(method.standard), inUnits(sample));
  return {
    kind: 'colour-difference',
    valueMicro: roundReal(difference, rounding),
    inputs: echo(rows),
    figures: [
      ...coordinates('standard', 'standard', method.standard),
      ...coordinates('sample', rows.length === 1 ? 'sample' : `mean of ${rows.length} readings of the sample`, sample),
      figure('delta-l', 'lighter (+) or darker (−) than the standard', sample.lMicro - method.standard.lMicro),
      figure('delta-a', 'redder (+) or greener (−)', sample.aMicro - method.standard.aMicro),
      figure('delta-b', 'yellower (+) or bluer (−)', sample.bMicro - method.standard.bMicro),
    ],
    cautions: [
      'sample and standard belong to one instrument, illuminant, observer and geometry; the formula is made for small differences',
    ],
  };
}

const inUnits = ({ lMicro, aMicro, bMicro }: LabMicro): Lab => ({ l: lMicro / MICRO, a: aMicro / MICRO, b: bMicro / MICRO });

const coordinates = (name: string, words: string, { lMicro, aMicro, bMicro }: LabMicro) => [
  figure(`${name}-l`, `L* of the ${words}`, lMicro),
  figure(`${name}-a`, `a* of the ${words}`, aMicro),
  figure(`${name}-b`, `b* of the ${words}`, bMicro),
];
