import { Inject, Injectable } from '@nestjs/common';
import { parseQuantity } from '../../../../shared/quantity.js';
import { Refusal } from '../../../../shared/refusal.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { decideBookDelivery } from './receiving.decide.js';
import type { BookDeliveryDto, DeliveryView } from './receiving.dto.js';
import { deliveries, deliveryView, receivingState } from './receiving.query.js';

@Injectable()
export class ReceivingService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  book(actor: Actor, dto: BookDeliveryDto): Promise<DeliveryView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command = {
        ...dto,
        receivedAt: dto.receivedAt ?? at,
        lines: dto.lines.map(({ quantity, ...line }) => ({ ...line, quantityMicro: parseQuantity(quantity) })),
      };
      const state = await receivingState(tx, command, this.config.lotPattern, at);
      await record([decideBookDelivery(command, state)]);
      return (await deliveryView(tx, state.delivery))!;
    });
  }

  async delivery(code: string): Promise<DeliveryView> {
    const view = await deliveryView(this.reader.manager, code);
    if (!view) throw new Refusal('unknown', [{ code: 'delivery-unknown', detail: `no delivery ${code}` }]);
    return view;
  }

  deliveries(): Promise<DeliveryView[]> {
    return deliveries(this.reader.manager, 200);
  }
}
