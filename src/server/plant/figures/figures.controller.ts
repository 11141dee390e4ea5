import { Controller, Get, Header, Query } from '@nestjs/common';
import { Reader } from '../../platform/database/reader.js';
import { EVERYONE, May } from '../people/access.js';
import { supplierItemsCsv } from './figures-csv.js';
import { FiguresQueryDto, SupplierItemView } from './figures.dto.js';
import { supplierItemFigures } from './figures.query.js';

@Controller('figures')
export class FiguresController {
  constructor(private readonly reader: Reader) {}

  /** Every supplier and item: lots, verdicts, nonconforming per million, severity, time from dock to release. */
  @Get('suppliers')
  @May(...EVERYONE)
  listSupplierFigures(@Query() query: FiguresQueryDto): Promise<SupplierItemView[]> {
    return supplierItemFigures(this.reader.manager, query);
  }

  /** The same as CSV. */
  @Get('suppliers.csv')
  @May(...EVERYONE)
  @Header('content-type', 'text/csv; charset=utf-8')
  @Header('content-disposition', 'attachment; filename="suppliers.csv"')
  async supplierFiguresCsv(@Query() query: FiguresQueryDto): Promise<string> {
    return supplierItemsCsv(await supplierItemFigures(this.reader.manager, query));
  }
}
