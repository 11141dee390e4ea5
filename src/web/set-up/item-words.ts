/** What items are, how they are counted, and which of these go together: what the form offers. The server decides (catalogue rule C-3). */
export type ItemClass = 'raw-material' | 'packaging' | 'component' | 'mixture' | 'filled' | 'assembled';
export type Unit = 'kg' | 'L' | 'm' | 'each';
export type Tracking = 'bulk' | 'pieces' | 'serial';

export const CLASSES: readonly { readonly value: ItemClass; readonly says: string }[] = [
  { value: 'raw-material', says: 'raw material: bought, goes into mixtures or parts' },
  { value: 'packaging', says: 'packaging: cans, lids, labels, cartons' },
  { value: 'component', says: 'component: bought or made part' },
  { value: 'mixture', says: 'mixture: made in a vessel by a recipe' },
  { value: 'filled', says: 'filled: packed from a mixture on a line' },
  { value: 'assembled', says: 'assembled: put together from parts' },
];
export const UNITS: readonly { readonly value: Unit; readonly says: string }[] = [
  { value: 'kg', says: 'kg, by weight' },
  { value: 'L', says: 'L, by volume' },
  { value: 'm', says: 'm, by length' },
  { value: 'each', says: 'each, by the piece' },
];
export const TRACKINGS: readonly { readonly value: Tracking; readonly says: string }[] = [
  { value: 'bulk', says: 'a quantity: a lot is one amount' },
  { value: 'pieces', says: 'numbered pieces: 1 to N in every lot' },
  { value: 'serial', says: 'serials: every piece has its own' },
];

/** How lots of each class may be counted. Whatever is numbered is counted in each. */
const FITS: Readonly<Record<ItemClass, { readonly units: readonly Unit[]; readonly trackings: readonly Tracking[] }>> = {
  'raw-material': { units: ['kg', 'L', 'm', 'each'], trackings: ['bulk', 'pieces', 'serial'] },
  packaging: { units: ['kg', 'L', 'm', 'each'], trackings: ['bulk', 'pieces', 'serial'] },
  component: { units: ['kg', 'L', 'm', 'each'], trackings: ['bulk', 'pieces', 'serial'] },
  mixture: { units: ['kg', 'L'], trackings: ['bulk'] },
  filled: { units: ['each'], trackings: ['pieces'] },
  assembled: { units: ['each'], trackings: ['serial', 'pieces'] },
};

/** The units that fit a class. */
export const unitsOf = (of: ItemClass): readonly Unit[] => FITS[of].units;

/** The ways of tracking that fit a class in a unit. */
export const trackingsOf = (of: ItemClass, unit: Unit): readonly Tracking[] =>
  FITS[of].trackings.filter((tracking) => tracking === 'bulk' || unit === 'each');

/** The value itself where it is one of those that fit, else the first of them. */
export const fitting = <Value extends string>(value: Value, fits: readonly Value[]): Value =>
  fits.includes(value) ? value : (fits[0] ?? value);

type Choices = readonly { readonly value: string; readonly says: string }[];

/** The words before the colon, short enough for a list to choose from. */
export const inShort = (choices: Choices): { value: string; says: string }[] =>
  choices.map(({ value, says }) => ({ value, says: says.split(':')[0] ?? says }));

/** What stands after the colon, for the hint beside a choice. */
export const explained = (choices: Choices, chosen: string): string | undefined =>
  choices.find(({ value }) => value === chosen)?.says.split(': ')[1];

/** A class in a list, without its explanation. */
export const classWord = (of: string): string => CLASSES.find(({ value }) => value === of)?.says.split(':')[0] ?? of;
export const trackingWord = (tracking: string): string => TRACKINGS.find(({ value }) => value === tracking)?.says.split(':')[0] ?? tracking;

/** The first serial that a pattern gives on a day of this year; null where the pattern has no running number or a part that is none. */
export function firstSerial(pattern: string): string | null {
  const running = /\{n:([1-9])\}/u.exec(pattern);
  if (running === null) return null;
  const serial = pattern.replace(running[0], '1'.padStart(Number(running[1]), '0'));
  return /[{}]/u.test(serial) ? null : serial;
}
