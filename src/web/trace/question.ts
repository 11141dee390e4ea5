import type { TraceOrigin } from '../../../shared/api/trace.js';
import { formatSpans } from '../../../shared/spans.js';
import type { operations } from '../wire/schema.js';

/** What the server is asked. */
export type TraceQuery = NonNullable<operations['traceLots']['parameters']['query']>;

export type Direction = 'forward' | 'backward';
export type Shown = 'narrow' | 'conservative';

/** Where a trace starts, as the API names it. */
const ORIGIN_KEYS = [
  'lot',
  'pieces',
  'serial',
  'item',
  'supplierLot',
  'supplier',
  'shipment',
  'run',
  'vessel',
  'at',
  'line',
  'instrument',
  'from',
  'to',
] as const;
type OriginKey = (typeof ORIGIN_KEYS)[number];
export type Origin = Partial<Record<OriginKey, string>> & { readonly lots?: readonly string[] };

/** What the page shows: all of it is in its address, so that it can be sent to somebody and gone back to. */
export interface Question {
  readonly origin: Origin;
  readonly direction: Direction;
  /** Ledger entry as known at which to answer; null: all that is recorded. */
  readonly asKnownAt: number | null;
  readonly shown: Shown;
  /** Id of the node of the river that was chosen. */
  readonly chosen: string | null;
  /** Typed, pasted or scanned, and not yet known what it is. */
  readonly text: string | null;
}

export function readQuestion(search: string): Question {
  const asked = new URLSearchParams(search);
  const origin: Partial<Record<OriginKey, string>> = {};
  for (const key of ORIGIN_KEYS) {
    const value = asked.get(key);
    if (value !== null && value !== '') origin[key] = value;
  }
  const lots = asked.getAll('lots').filter((lot) => lot !== '');
  const seq = asked.get('asKnownAt') ?? '';
  return {
    origin: lots.length === 0 ? origin : { ...origin, lots },
    direction: asked.get('direction') === 'backward' ? 'backward' : 'forward',
    asKnownAt: /^\d{1,15}$/u.test(seq) ? Number(seq) : null,
    shown: asked.get('shown') === 'conservative' ? 'conservative' : 'narrow',
    chosen: asked.get('chosen'),
    text: asked.get('text'),
  };
}

function originParameters({ lots, ...one }: Origin): URLSearchParams {
  const asked = new URLSearchParams();
  for (const key of ORIGIN_KEYS) if (one[key] !== undefined) asked.set(key, one[key]);
  for (const lot of lots ?? []) asked.append('lots', lot);
  return asked;
}

/** The address of a question; what is as usual is left out. */
export function addressOf({ origin, direction, asKnownAt, shown, chosen, text }: Partial<Question>): string {
  const asked = originParameters(origin ?? {});
  if (direction === 'backward') asked.set('direction', direction);
  if (asKnownAt !== null && asKnownAt !== undefined) asked.set('asKnownAt', `${asKnownAt}`);
  if (shown === 'conservative') asked.set('shown', shown);
  if (chosen) asked.set('chosen', chosen);
  if (text) asked.set('text', text);
  return asked.size === 0 ? '/trace' : `/trace?${asked.toString()}`;
}

/** A line without its time is half an origin: a year of it is no question. */
export const lacksTime = ({ line, from, to }: Origin): boolean => line !== undefined && (from === undefined || to === undefined);

/** Whether it is said where to start. `from`, `at` and the like say nothing alone. */
export function hasOrigin({ origin }: Question): boolean {
  const { lot, lots, serial, supplierLot, shipment, run, vessel, line, instrument } = origin;
  if (lacksTime(origin)) return false;
  return [lot, lots, serial, supplierLot, shipment, run, vessel, line, instrument].some((value) => value !== undefined);
}

/** What is asked of the server for the page: both scopes, the links the river is drawn from, and where everything is. */
export function queryOf({ origin: { lots, ...one }, direction, asKnownAt }: Question, scope: 'both' | 'conservative'): TraceQuery {
  return {
    ...one,
    ...(lots === undefined ? {} : { lots: [...lots] }),
    direction,
    ...(asKnownAt === null ? {} : { asKnownAt }),
    scope,
    whereabouts: true,
    links: true,
    inputs: true,
  };
}

/** The same trace as CSV, a line a piece. @param seq the entry as known at which the page shows it, so that both say the same */
export function csvAddress({ origin, direction, shown }: Question, seq: number): string {
  const asked = originParameters(origin);
  asked.set('direction', direction);
  asked.set('asKnownAt', `${seq}`);
  if (shown === 'conservative') asked.set('scope', 'conservative');
  return `/api/trace/pieces.csv?${asked.toString()}`;
}

/** What the trace starts from, in words. */
export function originWords(origin: Origin): string {
  const { lot, pieces, lots, serial, item, supplierLot, supplier, shipment, run, vessel, at, line, instrument, from, to } = origin;
  const time = from === undefined && to === undefined ? '' : `, ${from?.slice(0, 16) ?? '…'} to ${to?.slice(0, 16) ?? 'now'} UTC`;
  return [
    lot === undefined ? '' : pieces === undefined ? `lot ${lot}` : `pieces ${pieces} of lot ${lot}`,
    lots === undefined ? '' : lots.length === 1 ? `lot ${lots[0]}` : `lots ${lots.join(', ')}`,
    serial === undefined ? '' : `unit ${serial}${item === undefined ? '' : ` of ${item}`}`,
    supplierLot === undefined ? '' : `supplier’s lot ${supplierLot}${supplier === undefined ? '' : ` of ${supplier}`}`,
    shipment === undefined ? '' : `shipment ${shipment}`,
    run === undefined ? '' : `all lots of ${run}`,
    vessel === undefined
      ? ''
      : `vessel ${vessel}${at === undefined ? ' since its last cleaning' : ` between its cleanings around ${at.slice(0, 16)} UTC`}`,
    line === undefined ? '' : `line ${line}${time}`,
    instrument === undefined ? '' : `instrument ${instrument}${time}`,
  ]
    .filter((part) => part !== '')
    .join(' and ');
}

/** Origins that a recall can be opened from. What it cannot name it is given as the lots and pieces that were found. */
export function recallOrigin(origin: Origin, found: readonly TraceOrigin[]): { [key in OriginKey]?: string }[] {
  const { lot, pieces, lots, serial, item, supplierLot, supplier, shipment, run, vessel, line, instrument } = origin;
  if (vessel !== undefined || line !== undefined || instrument !== undefined) {
    return found.map((part) => (part.spans === null ? { lot: part.lot } : { lot: part.lot, pieces: formatSpans(part.spans) }));
  }
  return [
    ...(lot === undefined ? [] : [pieces === undefined ? { lot } : { lot, pieces }]),
    ...(lots ?? []).map((one) => ({ lot: one })),
    ...(serial === undefined ? [] : [item === undefined ? { serial } : { serial, item }]),
    ...(supplierLot === undefined ? [] : [supplier === undefined ? { supplierLot } : { supplierLot, supplier }]),
    ...(shipment === undefined ? [] : [{ shipment }]),
    ...(run === undefined ? [] : [{ run }]),
  ];
}
