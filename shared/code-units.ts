/** Order by UTF-16 code units, the same on every machine. */
export const byCodeUnits = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
