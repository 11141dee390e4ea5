/** Why a text is no currency, or null: a code of ISO 4217 that this machine knows, such as `EUR`. */
export const currencyFault = (text: string): string | null =>
  Intl.supportedValuesOf('currency').includes(text) ? null : 'is a code of ISO 4217 in capitals, such as EUR';

/** How many decimals the minor unit of a currency has, as the locale data of this machine has it: 2 for EUR, 0 for JPY. */
export const minorDigits = (currency: string): number =>
  new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 0;

/** Whole minor units as a decimal text: 12345 with 2 digits is `123.45`. Exact: nothing is divided. */
export function formatMinor(minor: number, digits: number): string {
  const text = `${Math.abs(minor)}`.padStart(digits + 1, '0');
  const sign = minor < 0 ? '-' : '';
  return digits === 0 ? `${sign}${text}` : `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`;
}
