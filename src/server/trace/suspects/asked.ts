import { Reasons } from '../../../../shared/refusal.js';
import {
  countPieces,
  coversSpans,
  formatSpans,
  intersectSpans,
  parseSpans,
  type SpanSet,
  subtractSpans,
  unionSpans,
  wholeLot,
} from '../../../../shared/spans.js';
import type { PiecesOfLot } from './population.js';

/** What is asked: of which pieces, and which of them failed. */
export interface SuspectsQuestion {
  readonly population: readonly AskedPart[];
  readonly failed: readonly AskedPiece[];
}

export interface AskedPart {
  readonly lot: string;
  /** Left out: the whole lot. */
  readonly pieces?: string | undefined;
}

/** Pieces of a lot, or one by its serial. */
interface AskedPiece {
  readonly lot?: string | undefined;
  readonly pieces?: string | undefined;
  readonly serial?: string | undefined;
  readonly item?: string | undefined;
}

/** What the record knows of the lots and serials that are named. */
export interface KnownPieces {
  readonly lots: ReadonlyMap<string, { readonly id: number; readonly pieces: number | null }>;
  readonly serials: ReadonlyMap<string, readonly { readonly item: string; readonly lot: string; readonly piece: number }[]>;
}

/** Parts by lot code, in the order of codes. */
interface AskedPieces {
  readonly population: readonly PiecesOfLot[];
  readonly failed: readonly PiecesOfLot[];
}

/** More are no complaints any more, and every one of them is looked at for every candidate. */
const MOST_FAILED = 100_000;
/** Places are 32-bit numbers. */
const MOST_PIECES = 2_000_000_000;

/**
 * The pieces that are asked about.
 * @throws Refusal with every fault: unknown lots and serials, bulk lots, pieces that are not there, named twice, or failed outside the population
 * @see docs/rules/trace.md T-16
 */
export function checkAsked(question: SuspectsQuestion, known: KnownPieces): AskedPieces {
  const no = new Reasons();
  const faulty = new Set<string>();
  const population = new Map<string, SpanSet>();
  for (const [at, { lot, pieces }] of question.population.entries()) {
    const pointer = `/population/${at}`;
    const spans = piecesOf(no, known, lot, pieces, pointer);
    if (spans === null) faulty.add(lot);
    else addTo(no, population, lot, spans, 'population-twice', pointer);
  }
  const failed = new Map<string, SpanSet>();
  for (const [at, asked] of question.failed.entries()) {
    const pointer = `/failed/${at}`;
    const found = failedOf(no, known, asked, pointer);
    if (found === null) continue;
    const outside = subtractSpans(found.spans, population.get(found.lot) ?? []);
    if (outside.length > 0 && !faulty.has(found.lot) && population.size > 0) {
      no.conflict('failed-outside', `${found.lot} ${formatSpans(outside)} is not in the population`, { pointer, lot: found.lot });
    }
    addTo(no, failed, found.lot, found.spans, 'failed-twice', pointer);
  }
  checkSizes(no, question, countOf(population), countOf(failed));
  no.throwIfAny();
  const parts = (of: ReadonlyMap<string, SpanSet>): PiecesOfLot[] =>
    [...of].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([lot, spans]) => ({ lot: known.lots.get(lot)!.id, spans }));
  return { population: parts(population), failed: parts(failed) };
}

const countOf = (of: ReadonlyMap<string, SpanSet>): number => [...of.values()].reduce((sum, spans) => sum + countPieces(spans), 0);

/** The pieces of a numbered lot, or null with the reason why there are none. */
function piecesOf(no: Reasons, { lots }: KnownPieces, lot: string, pieces: string | undefined, pointer: string): SpanSet | null {
  const row = lots.get(lot);
  if (row === undefined) no.unknown('lot-unknown', `no lot ${lot}`, { pointer, lot });
  else if (row.pieces === null) no.malformed('lot-not-numbered', `${lot} is a bulk lot: it has no piece numbers`, { pointer, lot });
  else {
    const whole = wholeLot(row.pieces);
    const spans = pieces === undefined ? whole : parseSpans(pieces);
    if (coversSpans(whole, spans)) return spans;
    no.malformed('pieces-outside', `${lot} has pieces 1-${row.pieces}, asked for ${formatSpans(spans)}`, { pointer, lot });
  }
  return null;
}

function failedOf(no: Reasons, known: KnownPieces, asked: AskedPiece, pointer: string): { lot: string; spans: SpanSet } | null {
  const { lot, pieces, serial, item } = asked;
  const byLot = lot !== undefined && pieces !== undefined && serial === undefined && item === undefined;
  const bySerial = serial !== undefined && lot === undefined && pieces === undefined;
  if (!byLot && !bySerial) {
    no.malformed('failed-unclear', 'name what failed by lot and pieces, or by serial and item', { pointer });
    return null;
  }
  if (byLot) {
    const spans = piecesOf(no, known, lot, pieces, pointer);
    return spans === null ? null : { lot, spans };
  }
  const rows = (known.serials.get(serial!) ?? []).filter((row) => item === undefined || row.item === item);
  const [row] = rows;
  if (row === undefined)
    no.unknown('serial-unknown', `no unit with serial ${serial}${item === undefined ? '' : ` of ${item}`}`, { pointer });
  else if (rows.length > 1) {
    const items = rows.map((one) => one.item);
    no.conflict('serial-ambiguous', `serial ${serial} exists for ${items.join(', ')}: name the item`, { pointer, serial, items });
  } else return { lot: row.lot, spans: [[row.piece, row.piece]] };
  return null;
}

/** Adds pieces to those of a lot; what is there already is named twice. */
function addTo(
  no: Reasons,
  to: Map<string, SpanSet>,
  lot: string,
  spans: SpanSet,
  code: 'population-twice' | 'failed-twice',
  pointer: string,
): void {
  const before = to.get(lot) ?? [];
  const twice = intersectSpans(before, spans);
  if (twice.length > 0) {
    const detail = `${lot} ${formatSpans(twice)} is named twice`;
    if (code === 'failed-twice') no.conflict('failed-twice', `${detail} among the failed; one piece fails once`, { pointer, lot });
    else no.conflict('population-twice', `${detail} in the population`, { pointer, lot });
  }
  to.set(lot, unionSpans(before, spans));
}

function checkSizes(no: Reasons, question: SuspectsQuestion, pieces: number, failed: number): void {
  if (question.population.length === 0) no.malformed('population-empty', 'say which pieces to look at', { pointer: '/population' });
  if (question.failed.length === 0)
    no.malformed('nothing-failed', 'say which pieces failed: without any there are no suspects', { pointer: '/failed' });
  if (pieces > MOST_PIECES)
    no.conflict('population-too-large', `of ${MOST_PIECES} pieces at most, not of ${pieces}`, { pointer: '/population' });
  if (failed > MOST_FAILED)
    no.conflict('too-many-failed', `of ${MOST_FAILED} failed pieces at most, not of ${failed}`, { pointer: '/failed' });
  if (!no.any && failed === pieces) {
    no.conflict('all-failed', `all ${pieces} pieces failed: there is nothing to compare them with`, { pointer: '/failed' });
  }
}
