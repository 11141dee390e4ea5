/** What is measured and in what unit, by the first three digits of the Application Identifier; titles as in the dictionary. */
const MEASURES: ReadonlyMap<string, readonly [what: string, unit: string]> = new Map(
  `310:net weight:kg 311:length:m 312:width:m 313:height:m 314:area:m² 315:net volume:L 316:net volume:m³ 320:net weight:lb
321:length:in 322:length:ft 323:length:yd 324:width:in 325:width:ft 326:width:yd 327:height:in 328:height:ft 329:height:yd
330:gross weight:kg 331:gross length:m 332:gross width:m 333:gross height:m 334:gross area:m² 335:gross volume:L 336:gross volume:m³
337:weight of area:kg/m² 340:gross weight:lb 341:gross length:in 342:gross length:ft 343:gross length:yd 344:gross width:in
345:gross width:ft 346:gross width:yd 347:gross height:in 348:gross height:ft 349:gross height:yd 350:area:in² 351:area:ft² 352:area:yd²
353:gross area:in² 354:gross area:ft² 355:gross area:yd² 356:net weight:ozt 357:net volume:fl oz 360:net volume:qt 361:net volume:gal
362:gross volume:qt 363:gross volume:gal 364:net volume:in³ 365:net volume:ft³ 366:net volume:yd³ 367:gross volume:in³
368:gross volume:ft³ 369:gross volume:yd³`
    .split(/\s(?=\d{3}:)/)
    .map((row) => {
      const [first = '', what = '', unit = ''] = row.split(':');
      return [first, [what, unit]];
    }),
);

/** A measure as decimal text without trailing zeros, with its unit. */
export interface Measure {
  readonly what: string;
  readonly value: string;
  readonly unit: string;
}

/**
 * Reads a measure: six digits of which the last digit of the Application Identifier says how many are decimals. Exact, no rounding.
 * @returns null when the Application Identifier is no measure
 */
export function readMeasure(ai: string, value: string): Measure | null {
  const known = ai.length === 4 ? MEASURES.get(ai.slice(0, 3)) : undefined;
  if (known === undefined) return null;
  return { what: known[0], value: withDecimals(value, Number(ai[3])), unit: known[1] };
}

/** Digits with the last so many of them as decimals, without needless zeros. */
function withDecimals(digits: string, decimals: number): string {
  const padded = digits.padStart(decimals + 1, '0');
  const whole = padded.slice(0, padded.length - decimals).replace(/^0+(?=\d)/, '');
  const rest = decimals === 0 ? '' : padded.slice(-decimals).replace(/0+$/, '');
  return rest === '' ? whole : `${whole}.${rest}`;
}

/**
 * Writes a decimal as the six digits of a measure, with as few decimals as keep it exact.
 * @param first the first three digits of the Application Identifier, such as `310`
 * @returns null when it has more than five decimals or more than six digits
 */
export function writeMeasure(first: string, value: string): { ai: string; value: string } | null {
  const match = /^(\d+)(?:\.(\d+))?$/.exec(value);
  if (match === null) return null;
  const decimals = (match[2] ?? '').replace(/0+$/, '');
  const digits = `${match[1]}${decimals}`.replace(/^0+/, '');
  if (decimals.length > 5 || digits.length > 6) return null;
  return { ai: `${first}${decimals.length}`, value: digits.padStart(6, '0') };
}
