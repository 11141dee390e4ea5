import type { PlantItem } from './plant.js';

const series = (count: number, prefix: string, name: string, kind: PlantItem['class'], unit: PlantItem['unit']): PlantItem[] =>
  Array.from({ length: count }, (_, n) => {
    const number = String(n + 1).padStart(2, '0');
    return { code: `${prefix}-${number}`, name: `${name} ${number}`, class: kind, unit };
  });

/** Everything the generated plant buys and makes: chain wax in cans, and track pumps. */
export const RAWS = series(60, 'RAW', 'Wax ingredient', 'raw-material', 'kg');
export const PACKAGING = series(24, 'PACK', 'Can part', 'packaging', 'each');
export const COMPONENTS = series(40, 'PART', 'Pump part', 'component', 'each');
export const SUB_ASSEMBLIES = series(3, 'SUB', 'Pump sub-assembly', 'assembled', 'each');
export const MIXTURES = series(12, 'MIX', 'Chain wax mix', 'mixture', 'kg');
export const CANS = series(12, 'WAX', 'Chain wax 250 g', 'filled', 'each');
export const PUMP: PlantItem = { code: 'PUMP-01', name: 'Track pump', class: 'assembled', unit: 'each' };
export const ITEMS: readonly PlantItem[] = [...RAWS, ...PACKAGING, ...COMPONENTS, ...SUB_ASSEMBLIES, ...MIXTURES, ...CANS, PUMP];
