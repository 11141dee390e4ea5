import { type SpanSet, subtractSpans, wholeLot } from '../../../shared/spans.js';
import type { Genealogy } from './genealogy.js';
import type { KnownLink } from './link.js';
import { type Origin, type Traced, type TraceOptions } from './traced.js';
import { traceBackward, traceForward } from './walk.js';

/** A lot that the narrow scope keeps wholly or partly out of the conservative one, and what that rests on. */
export interface Narrowing {
  readonly lot: number;
  /** Pieces kept out; null for a bulk lot kept out altogether. */
  readonly keptOut: SpanSet | null;
  /** Links from affected lots whose recorded pieces say that they reached no more of this lot than the narrow scope has. */
  readonly links: readonly KnownLink[];
  /** Lots the conservative scope comes through and the narrow one keeps out altogether: the reason lies with them. */
  readonly through: readonly number[];
}

export interface Scopes {
  readonly narrow: Traced;
  readonly conservative: Traced;
  readonly narrowings: readonly Narrowing[];
}

/** Both scopes of one question side by side, and the evidence for every difference between them. */
export function traceScopes(
  genealogy: Genealogy,
  direction: 'forward' | 'backward',
  origins: readonly Origin[],
  options: TraceOptions = {},
): Scopes {
  const trace = direction === 'forward' ? traceForward : traceBackward;
  const narrow = trace(genealogy, origins, { ...options, conservative: false });
  const conservative = trace(genealogy, origins, { ...options, conservative: true });
  const narrowings: Narrowing[] = [];
  for (const { lot } of conservative.lots) {
    const keptOut = keptOutOf(genealogy, lot, narrow);
    if (keptOut !== undefined) narrowings.push({ lot, keptOut, ...evidenceFor(genealogy, lot, narrow, conservative) });
  }
  return { narrow, conservative, narrowings };
}

/** What the narrow scope keeps out of a lot of the conservative one: undefined for nothing, null for the whole of a bulk lot. */
function keptOutOf(genealogy: Genealogy, lot: number, narrow: Traced): SpanSet | null | undefined {
  const reached = narrow.get(lot);
  const pieces = genealogy.piecesOf(lot);
  if (pieces === 0) return reached ? undefined : null;
  const keptOut = subtractSpans(wholeLot(pieces), reached?.spans ?? []);
  return keptOut.length > 0 ? keptOut : undefined;
}

function evidenceFor(genealogy: Genealogy, lot: number, narrow: Traced, conservative: Traced): Pick<Narrowing, 'links' | 'through'> {
  const forward = narrow.direction === 'forward';
  const links: KnownLink[] = [];
  const through = new Set<number>();
  for (const link of genealogy.linksOf(lot, forward ? 'into' : 'out', narrow.asKnownAt)) {
    const across = forward ? link.fromLot : link.toLot;
    // No link from an affected lot brings all of a narrowed lot, or it would not be narrowed: each such link is evidence.
    if (narrow.get(across)) links.push(link);
    else if (conservative.get(across)) through.add(across);
  }
  return { links, through: [...through] };
}
