import { Injectable } from '@nestjs/common';
import { Reader } from '../../platform/database/reader.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { decideSwitching, SWITCHING_DECISIONS } from './switching.decide.js';
import type {
  DecideSwitchingDto,
  SwitchingHistoryQueryDto,
  SwitchingQueryDto,
  SwitchingStateView,
  SwitchingStepView,
} from './switching.dto.js';
import { switchingDecisionState, switchingHistory, switchingStates } from './switching.query.js';

const MEANING: Readonly<Record<(typeof SWITCHING_DECISIONS)[number], string>> = {
  'production-steady': 'I state that production of this item is steady',
  'production-irregular': 'I state that production of this item is irregular',
  'reduced-desired': 'I consider reduced inspection of this item desirable',
  'reduced-not-desired': 'I do not consider reduced inspection of this item desirable',
  resume: 'I have seen what the supplier has done and resume acceptance inspection of this item, tightened',
  start: 'I direct under which severity inspection of this item starts',
};

/** How strict lots are inspected, and what quality decides about it. */
@Injectable()
export class SwitchingService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly reader: Reader,
  ) {}

  async decide(actor: Actor, dto: DecideSwitchingDto): Promise<SwitchingStateView[]> {
    const signature = await this.signatures.sign(actor.person, dto.password, MEANING[dto.decision]);
    return this.commands.run(actor, dto, async (tx, record) => {
      const fact = decideSwitching(dto, await switchingDecisionState(tx, dto), signature);
      await record([fact]);
      const states = await switchingStates(tx, { item: dto.item, supplier: dto.supplier });
      return states.filter((one) => one.supplier === fact.supplier && one.inForce);
    });
  }

  states(query: SwitchingQueryDto): Promise<SwitchingStateView[]> {
    return switchingStates(this.reader.manager, query);
  }

  history(query: SwitchingHistoryQueryDto): Promise<SwitchingStepView[]> {
    return switchingHistory(this.reader.manager, query);
  }
}
