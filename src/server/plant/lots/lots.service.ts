import { Inject, Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock } from '../../platform/clock.js';
import { Reader } from '../../platform/database/reader.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { entryAt } from '../../trace/trace.query.js';
import { findLots, serialViews } from './find-lots.query.js';
import type { Known } from './lot-row.query.js';
import { lotView } from './lot-view.query.js';
import type { FindLotsDto, LotListView, LotView, SerialView } from './lots.dto.js';
import { checkNamed } from '../stock/named.query.js';
import type { StockLineView, SupplyView } from './stock-lines.dto.js';
import { stockLines, suppliersOf } from './stock-lines.query.js';

/** Finding and showing lots. Reads only. */
@Injectable()
export class LotsService {
  constructor(
    private readonly reader: Reader,
    private readonly index: GenealogyIndex,
    @Inject(Clock) private readonly clock: Clock,
  ) {}

  async find(asked: FindLotsDto): Promise<LotListView> {
    return findLots(await this.#known(), asked);
  }

  async lot(code: string, asKnownAt: number | undefined): Promise<LotView> {
    const known = await this.#known(asKnownAt);
    const view = await lotView(known, code);
    const then = asKnownAt === undefined ? '' : ` at entry ${asKnownAt}`;
    if (!view) throw new Refusal('unknown', [{ code: 'lot-unknown', detail: `no lot ${code}${then}`, lot: code }]);
    return view;
  }

  async serial(serial: string): Promise<SerialView[]> {
    const views = await serialViews(await this.#known(), serial);
    if (views.length === 0) throw new Refusal('unknown', [{ code: 'serial-unknown', detail: `no unit with serial ${serial}`, serial }]);
    return views;
  }

  async stock(item: string | undefined, location: string | undefined): Promise<StockLineView[]> {
    await checkNamed(this.reader.manager, { item });
    return stockLines(await this.#known(), { item, location });
  }

  async suppliers(item: string, from: string | undefined, to: string | undefined): Promise<SupplyView[]> {
    await checkNamed(this.reader.manager, { item });
    return suppliersOf(this.reader.manager, item, from ?? '', to ?? '9999');
  }

  /** What is committed now, or was at an entry: then the day is that of the entry, so that a page can be had again as it was. */
  async #known(asKnownAt?: number): Promise<Known> {
    const genealogy = await this.index.current();
    const last = genealogy.committedSeq;
    if (asKnownAt !== undefined && asKnownAt > last) {
      throw new Refusal('unknown', [
        { code: 'entry-unknown', detail: `the ledger ends at entry ${last}; there is no entry ${asKnownAt} yet`, last },
      ]);
    }
    const seq = asKnownAt ?? last;
    const at = asKnownAt === undefined ? this.clock.now() : ((await entryAt(this.reader.manager, seq)) ?? this.clock.now());
    return { from: this.reader.manager, genealogy, seq, on: at.slice(0, 10) };
  }
}
