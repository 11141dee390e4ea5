import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { coversSpans, formatSpans, type SpanSet, subtractSpans, unionSpans, wholeLot } from '../../../../shared/spans.js';
import { Reader } from '../../platform/database/reader.js';
import type { Genealogy } from '../../trace/genealogy.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { placesAt } from '../../trace/trace.query.js';
import { lotIds } from '../stock/lot-ids.query.js';
import { ReportConsignees } from './consignees.service.js';
import type { ProposalView } from './proposals.dto.js';
import type { AffectedPart, Relation } from './nonconformance.facts.js';
import type { Report } from './report-state.facts.js';
import { reportState } from './report.query.js';
import { unknownReport } from './report.service.js';
import { instrumentsOfLots, lotsOfInstruments, lotsOfVessels, vesselsOfLots } from './siblings.query.js';

interface Found {
  readonly lot: number;
  readonly spans: SpanSet | null;
  readonly relation: Relation;
  readonly because: string;
}

/** What else may be affected, as the genealogy sees it. Proposes only: people judge (NR-5). */
@Injectable()
export class ProposalsService {
  constructor(
    private readonly index: GenealogyIndex,
    private readonly consignees: ReportConsignees,
    private readonly reader: Reader,
  ) {}

  async proposals(code: string): Promise<ProposalView[]> {
    const from = this.reader.manager;
    const report = await reportState(from, code);
    if (!report) throw unknownReport(code);
    const genealogy = await this.index.current();
    const ids = await lotIds(
      from,
      report.affected.map((part) => part.lot),
    );
    const affected = new Map<number, SpanSet | null>();
    for (const { lot, spans } of report.affected) {
      const id = ids.get(lot)!;
      affected.set(id, spans === null ? null : unionSpans(affected.get(id) ?? [], spans));
    }
    const found = [
      ...this.#restOfLots(affected),
      ...(await this.#madeFrom(from, report)),
      ...this.#sameInputs(affected, genealogy),
      ...(await this.#sameVessel(from, affected)),
      ...(await this.#sameInstrument(from, affected)),
    ];
    return this.#views(from, firstOfEach(found, affected), report, genealogy.committedSeq);
  }

  #restOfLots(affected: ReadonlyMap<number, SpanSet | null>): Found[] {
    return [...affected].flatMap(([lot, spans]): Found[] => {
      const card = this.index.cards[lot]!;
      if (card.pieces === null || spans === null) return [];
      const rest = subtractSpans(wholeLot(card.pieces), spans);
      return rest.length === 0 ? [] : [{ lot, spans: rest, relation: 'same-lot', because: `other pieces of ${card.lot}` }];
    });
  }

  async #madeFrom(from: EntityManager, report: Report): Promise<Found[]> {
    const { traced } = await this.consignees.reach(from, report);
    return traced
      .reachedByLinks()
      .map(({ lot, spans }) => ({ lot, spans, relation: 'made-from-it' as const, because: 'made from what is affected' }));
  }

  /** Lots that took from the same input lot as an affected one. */
  #sameInputs(affected: ReadonlyMap<number, SpanSet | null>, genealogy: Genealogy): Found[] {
    return [...affected.keys()].flatMap((lot) =>
      genealogy.linksOf(lot, 'into').flatMap(({ fromLot }) =>
        genealogy.linksOf(fromLot, 'out').map((link): Found => ({
          lot: link.toLot,
          spans: this.index.cards[link.toLot]!.pieces === null ? null : [[link.toFirst, link.toLast]],
          relation: 'same-input',
          because: `${this.index.cards[fromLot]!.lot} went into it as into ${this.index.cards[lot]!.lot}`,
        })),
      ),
    );
  }

  async #sameVessel(from: EntityManager, affected: ReadonlyMap<number, SpanSet | null>): Promise<Found[]> {
    const stays = await vesselsOfLots(
      from,
      [...affected.keys()].map((lot) => this.index.cards[lot]!.lot),
    );
    const lots = await lotsOfVessels(from, stays);
    return this.#whole(
      lots.map(({ lot, vessel }) => ({ lot, relation: 'same-vessel', because: `made in ${vessel} without a cleaning between` })),
    );
  }

  async #sameInstrument(from: EntityManager, affected: ReadonlyMap<number, SpanSet | null>): Promise<Found[]> {
    const used = await instrumentsOfLots(
      from,
      [...affected.keys()].map((lot) => this.index.cards[lot]!.lot),
    );
    const lots = await lotsOfInstruments(from, used);
    return this.#whole(
      lots.map(({ lot, instrument }) => ({
        lot,
        relation: 'same-instrument',
        because: `judged by ${instrument} since its last calibration`,
      })),
    );
  }

  #whole(lots: readonly { readonly lot: string; readonly relation: Relation; readonly because: string }[]): Found[] {
    const idOf = new Map(this.index.cards.flatMap((card, id) => (card === undefined ? [] : [[card.lot, id] as const])));
    return lots.flatMap(({ lot, ...rest }) => {
      const id = idOf.get(lot);
      if (id === undefined) return [];
      const { pieces } = this.index.cards[id]!;
      return [{ lot: id, spans: pieces === null ? null : wholeLot(pieces), ...rest }];
    });
  }

  async #views(from: EntityManager, found: readonly Found[], report: Report, seq: number): Promise<ProposalView[]> {
    const shipped = await placesAt(
      from,
      found.map((one) => one.lot),
      seq,
      'dispatched',
    );
    const out = new Set(shipped.map((part) => part.lotId));
    return found
      .map((one): ProposalView => {
        const { lot, item } = this.index.cards[one.lot]!;
        const judged = report.judged.filter((entry) => covers(entry.fact.part, lot, one.spans)).at(-1);
        return {
          lot,
          item,
          pieces: one.spans === null ? null : formatSpans(one.spans),
          relation: one.relation,
          because: one.because,
          shipped: out.has(one.lot),
          judged: judged === undefined ? null : judged.fact.affected ? 'in' : 'out',
        };
      })
      .toSorted((a, b) => (`${a.relation}\u0000${a.lot}` < `${b.relation}\u0000${b.lot}` ? -1 : 1));
  }
}

/** Whether a judgement was on all of what is proposed. */
const covers = (part: AffectedPart, lot: string, spans: SpanSet | null): boolean =>
  part.lot === lot && (spans === null || part.spans === null || coversSpans(part.spans, spans));

/** Each lot once, by its nearest relation, without the pieces that are affected already. */
function firstOfEach(found: readonly Found[], affected: ReadonlyMap<number, SpanSet | null>): Found[] {
  const seen = new Map<number, Found>();
  for (const one of found) {
    const before = seen.get(one.lot);
    if (before !== undefined && before.relation !== one.relation) continue;
    const own = affected.get(one.lot);
    if (own === null) continue;
    const spans = one.spans === null ? null : subtractSpans(unionSpans(before?.spans ?? [], one.spans), own ?? []);
    if (spans === null || spans.length > 0) seen.set(one.lot, { ...one, spans });
  }
  return [...seen.values()];
}
