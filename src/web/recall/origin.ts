import type { BodyOf } from '../wire/use-command.js';

export type Origin = BodyOf<'/api/recalls'>['origin'][number];

const KINDS = ['lot', 'pieces', 'serial', 'item', 'supplierLot', 'supplier', 'run', 'shipment'] as const;

/** The origin that an address names, as `?lot=R26-00032` or `?lot=F26-00038&pieces=1-370`; null when it names none. */
export function originOfAddress(asked: URLSearchParams): Origin | null {
  const named = KINDS.flatMap((kind) => {
    const value = asked.get(kind);
    return value === null || value === '' ? [] : [[kind, value] as const];
  });
  return named.length === 0 ? null : (Object.fromEntries(named) as Origin);
}

/**
 * Origins typed one a line: a lot, or a lot and its pieces after a blank or a colon, as `F26-00038 1-370`. Other kinds are named before a
 * blank: `serial K-00104`, `supplier-lot LW-6355`, `run RUN-0015`, `shipment S-0004`.
 */
export function originsOfText(text: string): Origin[] {
  const lines = text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);
  return lines.map((line) => {
    const [first = '', second] = line.split(/[\s:]+/u);
    if (second === undefined) return { lot: first };
    if (first === 'serial') return { serial: second };
    if (first === 'supplier-lot') return { supplierLot: second };
    if (first === 'run') return { run: second };
    if (first === 'shipment') return { shipment: second };
    return { lot: first, pieces: second };
  });
}

/** The text that `originsOfText` reads. */
export function textOfOrigin(origin: Origin): string {
  if (origin.serial !== undefined) return `serial ${origin.serial}`;
  if (origin.supplierLot !== undefined) return `supplier-lot ${origin.supplierLot}`;
  if (origin.run !== undefined) return `run ${origin.run}`;
  if (origin.shipment !== undefined) return `shipment ${origin.shipment}`;
  return `${origin.lot ?? ''}${origin.pieces === undefined ? '' : ` ${origin.pieces}`}`;
}
