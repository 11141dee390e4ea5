import { Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { givenSpans } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { type Signature, Signatures } from '../people/signature.js';
import { type Decide, decideNonAcceptance, decideReconsideration, decideRelease, type ReleaseState } from './release.decide.js';
import type { QualityDecisionDto, QualityDecisionView } from './release.dto.js';
import type { ReleaseFact } from './release.facts.js';
import { qualityDecisions, releaseState } from './release.query.js';

type Decision = (command: Decide, state: ReleaseState, signature: Signature) => ReleaseFact;

/** Decisions of quality on lots. */
@Injectable()
export class ReleaseService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly lineage: Lineage,
    private readonly reader: Reader,
  ) {}

  release(actor: Actor, lot: string, dto: QualityDecisionDto): Promise<QualityDecisionView> {
    return this.#decide(actor, lot, dto, 'I have reviewed the record of this lot and release it for use and shipment', decideRelease);
  }

  refuse(actor: Actor, lot: string, dto: QualityDecisionDto): Promise<QualityDecisionView> {
    return this.#decide(actor, lot, dto, 'I have reviewed the record of this lot and do not accept it', decideNonAcceptance);
  }

  reconsider(actor: Actor, lot: string, dto: QualityDecisionDto): Promise<QualityDecisionView> {
    return this.#decide(actor, lot, dto, 'I take the earlier decision on this lot back; it stands in quarantine', decideReconsideration);
  }

  async decisions(lot: string): Promise<QualityDecisionView[]> {
    const decisions = await qualityDecisions(this.reader.manager, lot);
    if (!decisions) throw new Refusal('unknown', [{ code: 'lot-unknown', detail: `no lot ${lot}`, lot }]);
    return decisions;
  }

  async #decide(actor: Actor, lot: string, dto: QualityDecisionDto, meaning: string, decision: Decision): Promise<QualityDecisionView> {
    const signature = await this.signatures.sign(actor.person, dto.password, meaning);
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command = { lot, reason: dto.reason, pieces: givenSpans(dto.pieces) };
      const state = await releaseState(tx, this.lineage, command, at.slice(0, 10));
      await record([decision(command, state, signature)]);
      return (await qualityDecisions(tx, lot))!.at(-1)!;
    });
  }
}
