import { Injectable } from '@nestjs/common';
import { intersectSpans } from '../../../shared/spans.js';
import { Reader } from '../platform/database/reader.js';
import { selectIn } from '../platform/database/rows.js';
import type { PieceStretch } from './pieces-csv.js';
import { affectedBy, byText } from './trace.answer.js';
import { placesAt, shipmentHeads } from './trace.query.js';
import { type TraceRequest, TraceService } from './trace.service.js';

/** The list of single pieces behind a trace. */
@Injectable()
export class PiecesService {
  constructor(
    private readonly traces: TraceService,
    private readonly reader: Reader,
  ) {}

  /** Stretches of affected pieces by lot, place and piece number; bulk lots have no pieces and are not in it. */
  async stretches(request: TraceRequest): Promise<PieceStretch[]> {
    const { traced, seq } = await this.traces.walk(request);
    const affected = new Map(affectedBy(traced).flatMap(({ lot, spans }) => (spans === null ? [] : [[lot, spans] as const])));
    const places = await placesAt(this.reader.manager, [...affected.keys()], seq);
    const heads = await shipmentHeads(
      this.reader.manager,
      places.filter((part) => part.fate === 'dispatched').map((part) => part.at),
    );
    const serials = await this.#serials([...affected.keys()]);
    return places
      .map((part) => ({
        lot: this.traces.cards[part.lotId]!.lot,
        spans: intersectSpans(affected.get(part.lotId)!, part.spans ?? []),
        whereabouts: `${part.fate} ${part.at}`,
        shipment: part.fate === 'dispatched' ? part.at : '',
        customer: part.fate === 'dispatched' ? (heads.get(part.at)?.customer ?? '') : '',
        serials: serials.get(part.lotId) ?? null,
      }))
      .filter((stretch) => stretch.spans.length > 0)
      .toSorted((a, b) => byText<PieceStretch>((s) => s.lot)(a, b) || a.spans[0]![0] - b.spans[0]![0]);
  }

  async #serials(lotIds: readonly number[]): Promise<Map<number, Map<number, string>>> {
    const rows = await selectIn<{ lot_id: number; piece: number; serial: string }>(
      this.reader.manager,
      'SELECT "lot_id", "piece", "serial" FROM "serial" WHERE "lot_id" IN (:list)',
      lotIds,
    );
    const byLot = new Map<number, Map<number, string>>();
    for (const row of rows) {
      const serials = byLot.get(row.lot_id) ?? new Map<number, string>();
      byLot.set(row.lot_id, serials.set(row.piece, row.serial));
    }
    return byLot;
  }
}
