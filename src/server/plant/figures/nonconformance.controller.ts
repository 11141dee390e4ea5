import { Controller, Get, Header, Inject, Query } from '@nestjs/common';
import { Clock } from '../../platform/clock.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { EVERYONE, May } from '../people/access.js';
import { ageingCsv, costsCsv, overdueCsv, paretoCsv, rightFirstTimeCsv } from './nonconformance-csv.js';
import {
  AgeingView,
  CostFiguresView,
  OverdueView,
  ParetoQueryDto,
  ParetoView,
  PeriodQueryDto,
  RightFirstTimeQueryDto,
  RightFirstTimeRowView,
} from './nonconformance.dto.js';
import { ageingFigures, costFigures, overdueFigures, paretoFigures, rightFirstTimeFigures } from './nonconformance.query.js';

const CSV = ['content-type', 'text/csv; charset=utf-8'] as const;
const named = (file: string) => ['content-disposition', `attachment; filename="${file}"`] as const;

@Controller('figures')
export class NonconformanceFiguresController {
  constructor(
    private readonly reader: Reader,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /** Nonconformance reports counted by defect, item, supplier, line or cause, most first, with cumulative shares. */
  @Get('nonconformance')
  @May(...EVERYONE)
  paretoFigures(@Query() query: ParetoQueryDto): Promise<ParetoView> {
    return paretoFigures(this.reader.manager, query);
  }

  /** The same as CSV. */
  @Get('nonconformance.csv')
  @May(...EVERYONE)
  @Header(...CSV)
  @Header(...named('nonconformance.csv'))
  async paretoFiguresCsv(@Query() query: ParetoQueryDto): Promise<string> {
    return paretoCsv(await paretoFigures(this.reader.manager, query));
  }

  /** Open reports by state and age, and each of them. */
  @Get('ageing')
  @May(...EVERYONE)
  ageingFigures(): Promise<AgeingView> {
    return ageingFigures(this.reader.manager, this.#today());
  }

  /** Open reports with their age, as CSV. */
  @Get('ageing.csv')
  @May(...EVERYONE)
  @Header(...CSV)
  @Header(...named('ageing.csv'))
  async ageingFiguresCsv(): Promise<string> {
    return ageingCsv(await ageingFigures(this.reader.manager, this.#today()));
  }

  /** What nonconformance cost, by kind of disposition and of cost, in minor units of the plant's currency. */
  @Get('costs')
  @May(...EVERYONE)
  costFigures(@Query() query: PeriodQueryDto): Promise<CostFiguresView> {
    return costFigures(this.reader.manager, query, this.config.currency);
  }

  /** The same as CSV. */
  @Get('costs.csv')
  @May(...EVERYONE)
  @Header(...CSV)
  @Header(...named('costs.csv'))
  async costFiguresCsv(@Query() query: PeriodQueryDto): Promise<string> {
    return costsCsv(await costFigures(this.reader.manager, query, this.config.currency));
  }

  /** How many lots and pieces were accepted the first time they were inspected, by item and ISO week. */
  @Get('right-first-time')
  @May(...EVERYONE)
  rightFirstTimeFigures(@Query() query: RightFirstTimeQueryDto): Promise<RightFirstTimeRowView[]> {
    return rightFirstTimeFigures(this.reader.manager, query);
  }

  /** The same as CSV. */
  @Get('right-first-time.csv')
  @May(...EVERYONE)
  @Header(...CSV)
  @Header(...named('right-first-time.csv'))
  async rightFirstTimeFiguresCsv(@Query() query: RightFirstTimeQueryDto): Promise<string> {
    return rightFirstTimeCsv(await rightFirstTimeFigures(this.reader.manager, query));
  }

  /** Actions that are not done and checks that nobody made although their day is past, longest overdue first. */
  @Get('overdue-actions')
  @May(...EVERYONE)
  overdueFigures(): Promise<OverdueView[]> {
    return overdueFigures(this.reader.manager, this.#today());
  }

  /** The same as CSV. */
  @Get('overdue-actions.csv')
  @May(...EVERYONE)
  @Header(...CSV)
  @Header(...named('overdue-actions.csv'))
  async overdueFiguresCsv(): Promise<string> {
    return overdueCsv(await overdueFigures(this.reader.manager, this.#today()));
  }

  #today(): string {
    return this.clock.now().slice(0, 10);
  }
}
