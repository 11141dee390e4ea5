import { Injectable } from '@nestjs/common';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { Refusal } from '../../../shared/refusal.js';
import { Reader } from '../platform/database/reader.js';
import { traceScopes } from './evidence.js';
import { flowOfTrace } from './flow.query.js';
import type { Genealogy } from './genealogy.js';
import { GenealogyIndex } from './genealogy-index.js';
import { runsInProcess, unitsOnceFitted } from './making.query.js';
import { originsOf, type TraceQuestion } from './origins.query.js';
import { cutByShare, sharesOf } from './shares.js';
import { affectedBy, affectedParts, byText, conservativeScope, consignees, totalsOf, tracedLots } from './trace.answer.js';
import { entryAt, itemClasses, placesAt, shipmentHeads } from './trace.query.js';
import type { Direction, Origin, Traced } from './traced.js';
import { traceBackward, traceForward } from './walk.js';

export interface TraceRequest extends TraceQuestion {
  readonly direction?: Direction | undefined;
  /** Ledger entry as of which to answer; left out: everything recorded. */
  readonly asKnownAt?: number | undefined;
  /** `both` adds the scope of whole lots and the evidence for each narrowing; `conservative` answers everything for that scope alone. */
  readonly scope?: 'narrow' | 'both' | 'conservative' | undefined;
  /** Adds where every affected part is. */
  readonly whereabouts?: boolean | undefined;
  /** Adds the links between affected lots. */
  readonly links?: boolean | undefined;
  /** With `links`: also the lots that went into affected ones without being affected. */
  readonly inputs?: boolean | undefined;
  /** Follow blending only where the share is at least this; the answer then lists what that leaves out. */
  readonly shareCutOff?: number | undefined;
}

/** A trace before it is written down: what other documents build on. */
interface TraceResult {
  readonly genealogy: Genealogy;
  readonly origins: readonly Origin[];
  readonly traced: Traced;
  readonly seq: number;
}

/** Answers traces. Reads only. */
@Injectable()
export class TraceService {
  constructor(
    private readonly index: GenealogyIndex,
    private readonly reader: Reader,
  ) {}

  /** @throws Refusal for an origin or an entry that the record does not know */
  async trace(request: TraceRequest): Promise<TraceAnswer> {
    const { genealogy, origins, traced, seq } = await this.walk(request);
    const direction = request.direction ?? 'forward';
    const cut = request.shareCutOff === undefined ? null : cutByShare(genealogy, traced, origins, request.shareCutOff);
    const kept = cut?.kept ?? traced;
    const shares = direction === 'forward' ? sharesOf(genealogy, traced, origins).byLot : new Map<number, never>();
    const { cards } = this.index;
    const lots = tracedLots(kept, cards, await itemClasses(this.reader.manager), shares);
    const list = await this.#consignees(kept, seq);
    const totals = totalsOf(lots, list);
    const affected = direction === 'forward' ? affectedBy(kept) : [];
    return {
      direction,
      asKnownAt: { seq, at: await entryAt(this.reader.manager, seq) },
      origin: origins
        .map(({ lot, spans }) => ({ lot: cards[lot]!.lot, spans: wholeIsNull(spans, cards[lot]!.pieces, request) }))
        .toSorted(byText((o) => o.lot)),
      lots,
      consignees: list,
      totals,
      wasFitted: await unitsOnceFitted(this.reader.manager, affected, cards, seq),
      inProcess: affected.length === 0 ? [] : await runsInProcess(this.reader.manager, affected, cards, seq),
      ...(request.scope === 'both' ? { conservative: await this.#conservative(genealogy, direction, origins, seq, totals.pieces) } : {}),
      ...(request.whereabouts ? { whereabouts: await this.#whereabouts(kept, seq) } : {}),
      ...(request.links ? { flow: await flowOfTrace(this.reader.manager, genealogy, kept, request.inputs ?? false) } : {}),
      ...(cut
        ? { leftOut: cut.leftOut.map(({ lot, spans, share }) => ({ lot: cards[lot]!.lot, spans, share })).toSorted(byText((l) => l.lot)) }
        : {}),
    };
  }

  /** Finds the origins and walks; for those who need the reached lots themselves. */
  async walk(request: TraceRequest): Promise<TraceResult> {
    const genealogy = await this.index.current();
    const known = genealogy.committedSeq;
    const seq = request.asKnownAt ?? known;
    if (seq > known) {
      throw new Refusal('unknown', [
        { code: 'entry-unknown', detail: `the ledger ends at entry ${known}; there is no entry ${seq} yet`, last: known },
      ]);
    }
    const origins = await originsOf(this.reader.manager, request, seq);
    const walk = request.direction === 'backward' ? traceBackward : traceForward;
    return {
      genealogy,
      origins,
      traced: walk(genealogy, origins, { asKnownAt: seq, conservative: request.scope === 'conservative' }),
      seq,
    };
  }

  /** Lots by database id, as answers name them. */
  get cards(): GenealogyIndex['cards'] {
    return this.index.cards;
  }

  async #consignees(traced: Traced, seq: number) {
    const affected = affectedBy(traced);
    const dispatched = await placesAt(
      this.reader.manager,
      affected.map((part) => part.lot),
      seq,
      'dispatched',
    );
    const heads = await shipmentHeads(
      this.reader.manager,
      dispatched.map((part) => part.at),
    );
    return consignees(affected, dispatched, heads, this.index.cards);
  }

  async #whereabouts(traced: Traced, seq: number) {
    const affected = affectedBy(traced);
    const places = await placesAt(
      this.reader.manager,
      affected.map((part) => part.lot),
      seq,
    );
    return affectedParts(affected, places, this.index.cards);
  }

  async #conservative(genealogy: Genealogy, direction: Direction, origins: readonly Origin[], seq: number, narrowPieces: number) {
    const { conservative, narrowings } = traceScopes(genealogy, direction, origins, { asKnownAt: seq });
    return conservativeScope(conservative, narrowings, this.index.cards, await this.#consignees(conservative, seq), narrowPieces);
  }
}

/** An origin that was asked for as a whole lot is answered as one. */
const wholeIsNull = (spans: Origin['spans'], pieces: number | null, request: TraceRequest): Origin['spans'] =>
  pieces !== null && request.pieces === undefined && spans?.length === 1 && spans[0]![0] === 1 && spans[0]![1] === pieces ? null : spans;
