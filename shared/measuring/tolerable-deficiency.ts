import { MICRO } from '../quantity.js';
import { MeasurementFault } from './measurement-fault.js';

interface Band {
  /** The largest nominal quantity of the band, in g or mL. */
  readonly to: number;
  /** Tenths of a percent of the nominal quantity, or tenths of a g or mL. */
  readonly permille?: number;
  readonly tenths?: number;
}

// Directive 76/211/EEC annex I 2.4; the same values are the tolerable deficiency of OIML R 87 table 1 (R 87 from memory).
const BANDS: readonly Band[] = [
  { to: 50, permille: 90 },
  { to: 100, tenths: 45 },
  { to: 200, permille: 45 },
  { to: 300, tenths: 90 },
  { to: 500, permille: 30 },
  { to: 1_000, tenths: 150 },
  { to: 10_000, permille: 15 },
  { to: 15_000, tenths: 1_500 },
  { to: 50_000, permille: 10 },
];

const LEAST = 5 * MICRO;
const TENTH = BigInt(MICRO / 10);

/**
 * How much one package may fall short of its nominal quantity before it counts as short: the T of the average rules.
 * A percentage is rounded up to the next tenth.
 * @param nominalMicro nominal quantity in millionths of a gram or a millilitre, 5 to 50 000 g or mL
 * @returns millionths of a gram or a millilitre
 * @throws MeasurementFault outside the table
 * @see fixtures/standards/net-content.json for the source and the published values
 */
export function tolerableDeficiency(nominalMicro: number): number {
  const band = BANDS.find(({ to }) => nominalMicro <= to * MICRO);
  if (band === undefined || !(nominalMicro >= LEAST)) {
    throw new MeasurementFault('tolerable deficiencies are laid down from 5 to 50 000 g or mL', '/nominal');
  }
  if (band.tenths !== undefined) return Number(BigInt(band.tenths) * TENTH);
  const thousandfold = BigInt(nominalMicro) * BigInt(band.permille ?? 0);
  const tenths = (thousandfold + 1_000n * TENTH - 1n) / (1_000n * TENTH);
  return Number(tenths * TENTH);
}
