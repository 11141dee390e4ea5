import { Controller, Get, Param, Query } from '@nestjs/common';
import { EVERYONE, May } from '../people/access.js';
import { FindLotsDto, LotListView, LotQueryDto, LotView, SerialView } from './lots.dto.js';
import { StockFilterDto, StockLineView, SuppliersQueryDto, SupplyView } from './stock-lines.dto.js';
import { LotsService } from './lots.service.js';

@Controller()
export class LotsController {
  constructor(private readonly service: LotsService) {}

  /** Finds lots by plant code, supplier's lot, serial, item, supplier, status or location. */
  @Get('lots')
  @May(...EVERYONE)
  findLots(@Query() query: FindLotsDto): Promise<LotListView> {
    return this.service.find(query);
  }

  /** One lot: stamp, balance, holds, where from, where to, reconciliation. */
  @Get('lots/:lot')
  @May(...EVERYONE)
  getLot(@Param('lot') lot: string, @Query() query: LotQueryDto): Promise<LotView> {
    return this.service.lot(lot, query.asKnownAt);
  }

  /** A unit by its serial, in every item that has one like it. */
  @Get('serials/:serial')
  @May(...EVERYONE)
  getSerial(@Param('serial') serial: string): Promise<SerialView[]> {
    return this.service.serial(serial);
  }

  /** Stock on hand by item and location, what expires first standing first. */
  @Get('stock')
  @May(...EVERYONE)
  listStock(@Query() query: StockFilterDto): Promise<StockLineView[]> {
    return this.service.stock(query.item, query.location);
  }

  /** Everyone who supplied an item between two instants. */
  @Get('items/:item/suppliers')
  @May(...EVERYONE)
  listSuppliers(@Param('item') item: string, @Query() query: SuppliersQueryDto): Promise<SupplyView[]> {
    return this.service.suppliers(item, query.from, query.to);
  }
}
