import { Inject, Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock } from '../../platform/clock.js';
import { Reader } from '../../platform/database/reader.js';
import { queryRows } from '../../platform/database/rows.js';
import { Lineage } from '../../trace/lineage.js';
import { findLots, serialViews } from './find-lots.query.js';
import { lotView } from './lot-view.query.js';
import type { FindLotsDto, LotListView, LotView, SerialView, StockLineView, SupplyView } from './lots.dto.js';
import { stockLines, suppliersOf } from './stock-lines.query.js';

/** Finding and showing lots. Reads only. */
@Injectable()
export class LotsService {
  constructor(
    private readonly reader: Reader,
    private readonly lineage: Lineage,
    @Inject(Clock) private readonly clock: Clock,
  ) {}

  find(asked: FindLotsDto): Promise<LotListView> {
    return findLots(this.reader.manager, this.lineage, asked, this.#today());
  }

  async lot(code: string, asKnownAt: number | undefined): Promise<LotView> {
    const [head] = await queryRows<{ seq: number }>(this.reader.manager, 'SELECT "seq" FROM "ledger_head" WHERE "id" = 1');
    const seq = Math.min(asKnownAt ?? Number.MAX_SAFE_INTEGER, head?.seq ?? 0);
    const view = await lotView(this.reader.manager, this.lineage, code, seq, this.#today());
    if (!view) throw new Refusal('unknown', [{ code: 'lot-unknown', detail: `no lot ${code}`, lot: code }]);
    return view;
  }

  async serial(serial: string): Promise<SerialView[]> {
    const views = await serialViews(this.reader.manager, serial);
    if (views.length === 0) throw new Refusal('unknown', [{ code: 'serial-unknown', detail: `no unit with serial ${serial}`, serial }]);
    return views;
  }

  stock(item: string | undefined, location: string | undefined): Promise<StockLineView[]> {
    return stockLines(this.reader.manager, this.lineage, { item, location }, this.#today());
  }

  suppliers(item: string, from: string | undefined, to: string | undefined): Promise<SupplyView[]> {
    return suppliersOf(this.reader.manager, item, from ?? '', to ?? '9999');
  }

  #today(): string {
    return this.clock.now().slice(0, 10);
  }
}
