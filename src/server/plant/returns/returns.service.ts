import { Inject, Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import { askedLine } from '../dispatch/goods-line.dto.js';
import { callOffInspections } from '../inspection/calling-off.query.js';
import { openInspections } from '../inspection/opening.query.js';
import type { Actor } from '../people/access.js';
import { checkNamed } from '../stock/named.query.js';
import { decideReturn, type ReturnGoods } from './returns.decide.js';
import type { ReturnGoodsDto, ReturnView, ReverseReturnDto } from './returns.dto.js';
import { type ReturnFilter, returnReversalState, returnState, returnView, returnViews } from './returns.query.js';
import { decideReturnReversal } from './reversal.decide.js';

const unknownReturn = (code: string): Refusal =>
  new Refusal('unknown', [{ code: 'return-unknown', detail: `no return ${code}`, returned: code }]);

@Injectable()
export class ReturnsService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  book(actor: Actor, dto: ReturnGoodsDto): Promise<ReturnView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command: ReturnGoods = { ...dto, returnedAt: dto.returnedAt ?? at, lines: dto.lines.map(askedLine) };
      const state = await returnState(tx, this.lineage, command, this.config.lotPattern, at);
      const returned = decideReturn(command, state);
      await record([returned]);
      const arrived = returned.lines.map(({ lot, spans, becomes }) => ({ lot: becomes ?? lot, spans }));
      await openInspections(tx, record, 'return', returned.returned, arrived);
      return (await returnView(tx, state.returned))!;
    });
  }

  reverse(actor: Actor, returned: string, dto: ReverseReturnDto): Promise<ReturnView> {
    return this.commands.run(actor, { ...dto, returned } as ReverseReturnDto, async (tx, record) => {
      const state = await returnReversalState(tx, this.lineage, returned);
      if (!state) throw unknownReturn(returned);
      await record([decideReturnReversal(dto.reason, state)]);
      const lots = state.lines.flatMap(({ becomes }) => becomes ?? []);
      await callOffInspections(tx, record, { source: returned, lots, reason: dto.reason });
      return (await returnView(tx, returned))!;
    });
  }

  async goodsReturn(code: string): Promise<ReturnView> {
    const view = await returnView(this.reader.manager, code);
    if (!view) throw unknownReturn(code);
    return view;
  }

  async goodsReturns(filter: ReturnFilter): Promise<ReturnView[]> {
    await checkNamed(this.reader.manager, filter);
    return returnViews(this.reader.manager, filter, 200);
  }
}
