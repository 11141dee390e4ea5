import { Controller, Get, Header, Query, StreamableFile } from '@nestjs/common';
import { PassThrough } from 'node:stream';
import { Reasons } from '../../../shared/refusal.js';
import { EVERYONE, May } from '../plant/people/access.js';
import { writePieces } from './pieces-csv.js';
import { PiecesService } from './pieces.service.js';
import { TraceQueryDto, TraceView } from './trace.dto.js';
import { TraceService } from './trace.service.js';

@Controller('trace')
export class TraceController {
  constructor(
    private readonly traces: TraceService,
    private readonly pieces: PiecesService,
  ) {}

  /** Follows material forward to everything that holds it, or backward to everything it came from. */
  @Get()
  @May(...EVERYONE)
  async traceLots(@Query() query: TraceQueryDto): Promise<TraceView> {
    checkQuery(query);
    return (await this.traces.trace(query)) as unknown as TraceView;
  }

  /** The same trace as CSV, one line a piece. */
  @Get('pieces.csv')
  @May(...EVERYONE)
  @Header('content-type', 'text/csv; charset=utf-8')
  @Header('content-disposition', 'attachment; filename="pieces.csv"')
  async tracePieces(@Query() query: TraceQueryDto): Promise<StreamableFile> {
    checkQuery(query);
    const stretches = await this.pieces.stretches(query);
    const out = new PassThrough({ highWaterMark: 256 * 1024 });
    writePieces(out, stretches).catch((error: Error) => out.destroy(error));
    return new StreamableFile(out);
  }
}

/** Fields that only mean something together. */
function checkQuery(query: TraceQueryDto): void {
  const no = new Reasons();
  if (query.pieces !== undefined && query.lot === undefined)
    no.malformed('pieces-without-lot', 'pieces need the lot they are pieces of', { pointer: '/pieces' });
  if (query.line !== undefined && (query.from === undefined || query.to === undefined)) {
    no.malformed('line-without-time', 'a line needs the time window: from and to', { pointer: '/line' });
  }
  if (query.from !== undefined && query.to !== undefined && query.from > query.to) {
    no.malformed('window-reversed', 'from is after to', { pointer: '/from' });
  }
  no.throwIfAny();
}
