import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { givenSpans } from '../../platform/http/given.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { UrgentState } from '../holds/holds.decide.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { makersOf } from '../release/release.query.js';
import { nextDocument } from '../stock/codes.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { CallOffInspectionDto, InspectionUrgencyDto, RequestInspectionDto, SkipInspectionDto } from './inspection-decisions.dto.js';
import type { InspectionState } from './inspection-state.facts.js';
import { inspectionState } from './inspection-state.query.js';
import type { InspectionView } from './inspection-view.dto.js';
import { inspectionView } from './inspection-view.query.js';
import { decideCallOff } from './calling-off.decide.js';
import { decideRequest } from './request.decide.js';
import { requestState } from './request.query.js';
import { decideSkip, decideUrgency } from './skip.decide.js';

const SKIPPED = 'I let this lot go on without its inspection; it and all made from it stay marked until the urgent release is closed';

/** What others decide about inspections: that there is one, that it comes first, that it is skipped. */
@Injectable()
export class InspectionDecisionsService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly lineage: Lineage,
  ) {}

  request(actor: Actor, dto: RequestInspectionDto): Promise<InspectionView> {
    return this.commands.run(actor, dto, async (tx, record) => {
      const command = { ...dto, pieces: givenSpans(dto.pieces) };
      const fact = decideRequest(command, await requestState(tx, this.lineage, command));
      await record([fact]);
      return (await inspectionView(tx, fact.inspection))!;
    });
  }

  async skip(actor: Actor, inspection: string, dto: SkipInspectionDto): Promise<InspectionView> {
    const signature = await this.signatures.sign(actor.person, dto.password, SKIPPED);
    return this.commands.run(actor, { ...dto, inspection } as SkipInspectionDto, async (tx, record, at) => {
      const state = await knownInspection(tx, inspection);
      const urgent = await this.#urgentState(tx, state, at.slice(0, 10));
      await record(decideSkip(dto, { inspection: state, urgent }, signature));
      return (await inspectionView(tx, inspection))!;
    });
  }

  makeUrgent(actor: Actor, inspection: string, dto: InspectionUrgencyDto): Promise<InspectionView> {
    return this.commands.run(actor, { ...dto, inspection } as InspectionUrgencyDto, async (tx, record) => {
      await record([decideUrgency(dto, await knownInspection(tx, inspection))]);
      return (await inspectionView(tx, inspection))!;
    });
  }

  callOff(actor: Actor, inspection: string, dto: CallOffInspectionDto): Promise<InspectionView> {
    return this.commands.run(actor, { ...dto, inspection } as CallOffInspectionDto, async (tx, record) => {
      const state = await knownInspection(tx, inspection);
      const lot = (await lotStates(tx, this.lineage, [{ lot: state.lot, spans: state.spans }])).get(state.lot)!;
      await record([decideCallOff(dto, { inspection: state, lot })]);
      return (await inspectionView(tx, inspection))!;
    });
  }

  async #urgentState(tx: EntityManager, { lot: code, spans }: InspectionState, on: string): Promise<UrgentState> {
    const urgentRelease = await nextDocument(tx, 'urgent_release', 'UR');
    const lot = (await lotStates(tx, this.lineage, [{ lot: code, spans }])).get(code);
    return { urgentRelease, lot, makers: lot ? await makersOf(tx, lot.bornSeq, lot.source) : [], on };
  }
}

async function knownInspection(tx: EntityManager, inspection: string): Promise<InspectionState> {
  const state = await inspectionState(tx, inspection);
  if (!state) throw new Refusal('unknown', [{ code: 'inspection-unknown', detail: `no inspection ${inspection}`, inspection }]);
  return state;
}
