import { Injectable } from '@nestjs/common';
import { formatQuantity, parseQuantity } from '../../../../shared/quantity.js';
import { Reasons, Refusal } from '../../../../shared/refusal.js';
import { formatSpans } from '../../../../shared/spans.js';
import { Clock } from '../../platform/clock.js';
import { Reader } from '../../platform/database/reader.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { Lineage } from '../../trace/lineage.js';
import { traceForward } from '../../trace/walk.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { type Dispatch, decideDispatch, decideReversal } from './dispatch.decide.js';
import type { DispatchDto, PickQueryDto, PickView, RecipientView, ReverseShipmentDto, ShipmentView } from './dispatch.dto.js';
import { checkNamed } from '../stock/named.query.js';
import { dispatchState, reversalState } from './dispatch.query.js';
import { askedLine } from './goods-line.dto.js';
import { checkPickQuantity, judgeStock, proposePick } from './pick.decide.js';
import type { StockPart } from './pick.facts.js';
import { type Descendants, stockOnHand } from './pick.query.js';
import { recipients } from './recipients.query.js';
import { type ShipmentFilter, shipmentView, shipmentViews } from './shipment-view.query.js';

const unknownShipment = (shipment: string): Refusal =>
  new Refusal('unknown', [{ code: 'shipment-unknown', detail: `no shipment ${shipment}`, shipment }]);

@Injectable()
export class DispatchService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
    private readonly index: GenealogyIndex,
    private readonly clock: Clock,
  ) {}

  dispatch(actor: Actor, dto: DispatchDto): Promise<ShipmentView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command: Dispatch = { ...dto, shippedAt: dto.shippedAt ?? at, lines: dto.lines.map(askedLine) };
      const state = await dispatchState(tx, this.lineage, command, at);
      await record([decideDispatch(command, state)]);
      return (await shipmentView(tx, state.shipment))!;
    });
  }

  reverse(actor: Actor, shipment: string, dto: ReverseShipmentDto): Promise<ShipmentView> {
    return this.commands.run(actor, { ...dto, shipment } as ReverseShipmentDto, async (tx, record) => {
      const state = await reversalState(tx, shipment);
      if (!state) throw unknownShipment(shipment);
      await record([decideReversal(dto.reason, state)]);
      return (await shipmentView(tx, shipment))!;
    });
  }

  async shipment(code: string): Promise<ShipmentView> {
    const view = await shipmentView(this.reader.manager, code);
    if (!view) throw unknownShipment(code);
    return view;
  }

  async shipments(filter: ShipmentFilter, limit: number): Promise<ShipmentView[]> {
    await checkNamed(this.reader.manager, filter);
    return shipmentViews(this.reader.manager, filter, limit);
  }

  async recipients(filter: ShipmentFilter): Promise<RecipientView[]> {
    await checkNamed(this.reader.manager, filter);
    return recipients(this.reader.manager, filter);
  }

  /** Oldest first, as the record stands now. */
  async pick(code: string, query: PickQueryDto): Promise<PickView> {
    const from = this.reader.manager;
    const item = (await catalogueByCode(from, 'item', [code])).get(code);
    const wantedMicro = parseQuantity(query.quantity);
    const no = new Reasons();
    checkPickQuantity(no, code, item, wantedMicro);
    no.throwIfAny();
    const genealogy = await this.index.current();
    const descendants: Descendants = async (part) =>
      traceForward(genealogy, [{ lot: part.lotId, spans: part.spans }])
        .reachedByLinks()
        .map(({ lot, spans, again }) => ({ lotId: lot, spans: again ? again.spans : spans }));
    const stock = await stockOnHand(from, [code], query.location, descendants);
    const today = this.clock.now().slice(0, 10);
    const advice = proposePick(
      stock.map((lot) => judgeStock(lot, today)),
      wantedMicro,
    );
    return {
      item: code,
      wanted: query.quantity,
      short: formatQuantity(advice.shortMicro),
      proposed: advice.proposed.map(({ lot, at, unit, expiresOn, bornAt, ...part }) => ({
        lot,
        at,
        ...amount(part),
        unit,
        expiresOn,
        bornAt,
      })),
      skipped: advice.skipped.map(({ lot, code: reason, detail, ...part }) => ({ lot, ...amount(part), code: reason, detail })),
    };
  }
}

const amount = ({ spans, quantityMicro }: StockPart): { pieces: string | null; quantity: string } => ({
  pieces: spans === null ? null : formatSpans(spans),
  quantity: formatQuantity(quantityMicro),
});
