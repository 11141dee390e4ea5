import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { Consignee } from '../../../../shared/api/trace.js';
import { spanSet } from '../../../../shared/spans.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { affectedBy, consignees } from '../../trace/trace.answer.js';
import { placesAt, shipmentHeads } from '../../trace/trace.query.js';
import type { Origin, Traced } from '../../trace/traced.js';
import { traceForward } from '../../trace/walk.js';
import { lotIds } from '../stock/lot-ids.query.js';
import type { Report } from './report-state.facts.js';

/** Everything a report's affected parts went into, and who has it. */
@Injectable()
export class ReportConsignees {
  constructor(private readonly index: GenealogyIndex) {}

  /**
   * Customers that anything affected, or made from it, went to, with what each has; by code.
   * @param asKnownAt ledger entry; left out: everything recorded
   */
  async consigneesOf(from: EntityManager, report: Report, asKnownAt?: number): Promise<Consignee[]> {
    const { traced, seq } = await this.reach(from, report, asKnownAt);
    const affected = affectedBy(traced);
    const dispatched = await placesAt(
      from,
      affected.map((part) => part.lot),
      seq,
      'dispatched',
    );
    const heads = await shipmentHeads(
      from,
      dispatched.map((part) => part.at),
    );
    return consignees(affected, dispatched, heads, this.index.cards);
  }

  async customersOf(from: EntityManager, report: Report): Promise<string[]> {
    return (await this.consigneesOf(from, report)).map((one) => one.customer);
  }

  /** A forward trace of all that is affected. */
  async reach(from: EntityManager, report: Report, asKnownAt?: number): Promise<{ traced: Traced; seq: number }> {
    const genealogy = await this.index.current();
    const seq = asKnownAt ?? genealogy.committedSeq;
    const ids = await lotIds(
      from,
      report.affected.map((part) => part.lot),
    );
    const origins = new Map<number, Origin>();
    for (const { lot, spans } of report.affected) {
      const id = ids.get(lot)!;
      const before = origins.get(id)?.spans;
      origins.set(id, { lot: id, spans: spans === null ? null : spanSet([...(before ?? []), ...spans]) });
    }
    return { traced: traceForward(genealogy, [...origins.values()], { asKnownAt: seq }), seq };
  }
}
