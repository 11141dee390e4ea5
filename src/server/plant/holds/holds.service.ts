import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { queryRows } from '../../platform/database/rows.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { makersOf } from '../release/release.query.js';
import { nextDocument } from '../stock/codes.query.js';
import { lotStates } from '../stock/lot-state.query.js';
import { holdReach, holdViews, urgentReleaseViews } from './hold-views.query.js';
import { decideCloseUrgent, decideLiftHold, decideOpenUrgent, decidePlaceHold } from './holds.decide.js';
import type {
  CloseUrgentReleaseDto,
  HoldReachView,
  HoldView,
  LiftHoldDto,
  OpenUrgentReleaseDto,
  PlaceHoldDto,
  UrgentReleaseView,
} from './holds.dto.js';

/** Holds and urgent releases: decisions of quality that stop material, or let it go on. */
@Injectable()
export class HoldsService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly lineage: Lineage,
    private readonly index: GenealogyIndex,
    private readonly reader: Reader,
  ) {}

  async place(actor: Actor, dto: PlaceHoldDto): Promise<HoldReachView> {
    const meaning = dto.reaches ? 'I stop this material and everything made from it' : 'I stop this material';
    const signature = await this.signatures.sign(actor.person, dto.password, meaning);
    return this.commands.run(actor, dto, async (tx, record) => {
      const command = {
        parts: dto.parts.map(({ lot, pieces, quantity }) => ({
          lot,
          pieces: givenSpans(pieces),
          quantityMicro: givenQuantity(quantity),
        })),
        reaches: dto.reaches,
        reason: dto.reason,
        owner: dto.owner ?? actor.person,
      };
      const hold = await nextDocument(tx, 'hold', 'H');
      const lots = await lotStates(
        tx,
        this.lineage,
        command.parts.map(({ lot }) => ({ lot, spans: null })),
      );
      const ownerKnown = await isPerson(tx, command.owner);
      await record([decidePlaceHold(command, { hold, lots, ownerKnown }, signature)]);
      return (await holdReach(tx, this.lineage, hold))!;
    });
  }

  async lift(actor: Actor, hold: string, dto: LiftHoldDto): Promise<HoldReachView> {
    const signature = await this.signatures.sign(actor.person, dto.password, 'I have seen why this material was stopped and let it go on');
    return this.commands.run(actor, dto, async (tx, record) => {
      const [row] = await queryRows<{ lifted_seq: number | null }>(tx, 'SELECT "lifted_seq" FROM "hold" WHERE "code" = ?', [hold]);
      const state = { found: row !== undefined, liftedSeq: row?.lifted_seq ?? null };
      await record([decideLiftHold({ hold, reason: dto.reason }, state, signature)]);
      return (await holdReach(tx, this.lineage, hold))!;
    });
  }

  async openUrgent(actor: Actor, dto: OpenUrgentReleaseDto): Promise<UrgentReleaseView> {
    const meaning = `I let this material be used although: ${dto.setsAside.join(', ')}; it and all made from it stay marked until this is closed`;
    const signature = await this.signatures.sign(actor.person, dto.password, meaning);
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command = { ...dto, pieces: givenSpans(dto.pieces) };
      const urgentRelease = await nextDocument(tx, 'urgent_release', 'UR');
      const lot = (await lotStates(tx, this.lineage, [{ lot: dto.lot, spans: command.pieces ?? null }])).get(dto.lot);
      const makers = lot ? await makersOf(tx, lot.bornSeq, lot.source) : [];
      await record([decideOpenUrgent(command, { urgentRelease, lot, makers, on: at.slice(0, 10) }, signature)]);
      return this.#urgent(tx, urgentRelease);
    });
  }

  async closeUrgent(actor: Actor, urgentRelease: string, dto: CloseUrgentReleaseDto): Promise<UrgentReleaseView> {
    const signature = await this.signatures.sign(actor.person, dto.password, 'I have seen the results and close this urgent release');
    return this.commands.run(actor, dto, async (tx, record) => {
      const [row] = await queryRows<{ closed_seq: number | null }>(tx, 'SELECT "closed_seq" FROM "urgent_release" WHERE "code" = ?', [
        urgentRelease,
      ]);
      const state = { found: row !== undefined, closedSeq: row?.closed_seq ?? null };
      await record([decideCloseUrgent({ urgentRelease, reason: dto.reason }, state, signature)]);
      return this.#urgent(tx, urgentRelease);
    });
  }

  holds(): Promise<HoldView[]> {
    return holdViews(this.reader.manager);
  }

  async hold(hold: string): Promise<HoldReachView> {
    const view = await holdReach(this.reader.manager, this.lineage, hold);
    if (!view) throw new Refusal('unknown', [{ code: 'hold-unknown', detail: `no hold ${hold}`, hold }]);
    return view;
  }

  urgentReleases(): Promise<UrgentReleaseView[]> {
    return this.#urgents(this.reader.manager);
  }

  async #urgent(from: EntityManager, code: string): Promise<UrgentReleaseView> {
    return (await this.#urgents(from, code))[0]!;
  }

  async #urgents(from: EntityManager, code?: string): Promise<UrgentReleaseView[]> {
    return urgentReleaseViews(from, await this.index.current(), code);
  }
}

const isPerson = async (tx: EntityManager, person: string): Promise<boolean> =>
  (await queryRows(tx, 'SELECT 1 AS "one" FROM "person" WHERE "code" = ?', [person])).length > 0;
