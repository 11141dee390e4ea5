import { pieceText } from '../design/piece-text.js';
import type { View } from '../wire/client.js';
import type { operations } from '../wire/schema.js';
import type { BodyOf } from '../wire/use-command.js';
import { spansText } from './words.js';

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

const NAMED = /^(serial|supplier-lot|run|shipment)\s+(.+)$/u;
const PIECES = /^(\S+?)(?:\s*:\s*|\s+)(\d.*)$/u;
const OF = ' of ';

/**
 * Origins typed one a line: a lot, or a lot and its pieces after a blank or a colon, as `F26-00038 1-370,400`. Other kinds are named before
 * a blank: `serial K-00104`, `supplier-lot LW-6355`, `run RUN-0015`, `shipment S-0004`. Where several items or suppliers have that code,
 * which one: `serial K-00104 of PUMP`.
 */
export function originsOfText(text: string): Origin[] {
  const lines = text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);
  return lines.map((line): Origin => {
    const [, kind, rest = ''] = NAMED.exec(line) ?? [];
    if (kind === 'run') return { run: rest };
    if (kind === 'shipment') return { shipment: rest };
    const [code, of] = codeOf(rest);
    if (kind === 'serial') return of === undefined ? { serial: code } : { serial: code, item: of };
    if (kind === 'supplier-lot') return of === undefined ? { supplierLot: code } : { supplierLot: code, supplier: of };
    const [, lot, pieces] = PIECES.exec(line) ?? [];
    if (lot !== undefined && pieces !== undefined) return { lot, pieces: pieceText(pieces) };
    return { lot: line };
  });
}

function codeOf(text: string): [code: string, of?: string] {
  const at = text.lastIndexOf(OF);
  return at === -1 ? [text] : [text.slice(0, at).trim(), text.slice(at + OF.length).trim()];
}

const ofWhich = (of: string | undefined): string => (of === undefined ? '' : `${OF}${of}`);

/** The text that `originsOfText` reads. */
export function textOfOrigin(origin: Origin): string {
  if (origin.serial !== undefined) return `serial ${origin.serial}${ofWhich(origin.item)}`;
  if (origin.supplierLot !== undefined) return `supplier-lot ${origin.supplierLot}${ofWhich(origin.supplier)}`;
  if (origin.run !== undefined) return `run ${origin.run}`;
  if (origin.shipment !== undefined) return `shipment ${origin.shipment}`;
  return `${origin.lot ?? ''}${origin.pieces === undefined ? '' : ` ${origin.pieces}`}`;
}

type TraceQuery = NonNullable<operations['traceLots']['parameters']['query']>;

/** The origins as one question to the trace; null when there are several of a kind that it takes one of. */
export function questionOf(origins: readonly Origin[]): TraceQuery | null {
  const whole = origins.flatMap(({ lot, pieces }) => (lot !== undefined && pieces === undefined ? [lot] : []));
  const others = origins.filter(({ lot, pieces }) => lot === undefined || pieces !== undefined);
  const kinds = new Set(others.map((one) => Object.keys(one)[0]));
  if (origins.length === 0 || kinds.size < others.length) return null;
  return Object.assign({}, ...others, whole.length === 0 ? {} : { lots: whole }) as TraceQuery;
}

/** A trace to look at: of everything at once, or of one of the origins, which is then named. */
interface TraceLink {
  readonly of: string | null;
  readonly href: string;
}

/**
 * Where the trace of a frozen scope is looked at. Whole lots are traced together; pieces of several lots have no question in common, so
 * each has a trace of its own. Conservatively every lot is whole; a narrow scope says which lots it has not the whole of.
 */
export function tracesOf(
  { origin, chosen, knownSeq }: Pick<View<'RecallVersionView'>, 'origin' | 'chosen' | 'knownSeq'>,
  narrowed: readonly string[],
): TraceLink[] {
  const link = (from: readonly (readonly [name: string, value: string])[]): string => {
    const asked = new URLSearchParams([...from.map(([name, value]) => [name, value]), ['asKnownAt', `${knownSeq}`]]);
    if (chosen === 'conservative') asked.set('shown', chosen);
    return `/trace?${asked.toString()}`;
  };
  const isWhole = ({ lot, spans }: (typeof origin)[number]): boolean => spans === null || !narrowed.includes(lot);
  if (origin.length > 1 && (chosen === 'conservative' || origin.every(isWhole)))
    return [{ of: null, href: link(origin.map(({ lot }) => ['lots', lot])) }];
  return origin.map((part) => ({
    of: origin.length === 1 ? null : part.lot,
    href: link([['lot', part.lot], ...(isWhole(part) ? [] : [['pieces', spansText(part.spans)] as const])]),
  }));
}
