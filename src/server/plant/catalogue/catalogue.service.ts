import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { Reader } from '../../platform/database/reader.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { decideRevise, type Revise } from './catalogue.decide.js';
import type { ReviseDto, RevisionView } from './catalogue.dto.js';
import type { CatalogueKind } from './catalogue.facts.js';
import { catalogueByCode, catalogueHistory, catalogueOf } from './catalogue.query.js';
import { WIRE, type WireKinds } from './catalogue.wire.js';
import { catalogueState, itemPlanned } from './revise.query.js';

/** Items, parties, places, recipes, bills of materials, instruments, inspection plans, defects: each revised by a new entry, never edited. */
@Injectable()
export class CatalogueService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
  ) {}

  /** Makes revision 1, or the one after `dto.revision`. */
  revise<K extends CatalogueKind>(actor: Actor, what: K, dto: WireKinds[K]['dto'] & ReviseDto): Promise<WireKinds[K]['view']> {
    return this.commands.run(actor, { ...dto, what } as object, async (tx, record) => {
      const item = await itemPlanned(tx, what, dto.code);
      const command: Revise<K> = { what, record: WIRE[what].read(dto, item), revision: dto.revision, reason: dto.reason };
      await record([decideRevise(command, await catalogueState(tx, command))]);
      return this.#one(tx, what, dto.code);
    });
  }

  /** Every current record of a kind, by code. */
  async list<K extends CatalogueKind>(what: K): Promise<WireKinds[K]['view'][]> {
    return (await catalogueOf(this.reader.manager, what)).map(WIRE[what].show);
  }

  one<K extends CatalogueKind>(what: K, code: string): Promise<WireKinds[K]['view']> {
    return this.#one(this.reader.manager, what, code);
  }

  /** Every revision, first to last. */
  async history<K extends CatalogueKind>(what: K, code: string): Promise<(RevisionView & { record: WireKinds[K]['view'] })[]> {
    const past = await catalogueHistory(this.reader.manager, what, code);
    if (past.length === 0) throw unknown(what, code);
    return past.map(({ sinceSeq, untilSeq, at, by, reason, ...record }) => ({
      revision: record.revision,
      sinceSeq,
      untilSeq,
      at,
      by,
      reason,
      record: WIRE[what].show(record as never),
    }));
  }

  async #one<K extends CatalogueKind>(tx: EntityManager, what: K, code: string): Promise<WireKinds[K]['view']> {
    const record = (await catalogueByCode(tx, what, [code])).get(code);
    if (!record) throw unknown(what, code);
    return WIRE[what].show(record);
  }
}

const unknown = (what: CatalogueKind, code: string): Refusal =>
  new Refusal('unknown', [{ code: `${what}-unknown`, detail: `no ${what} ${code}` }]);
