import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { type Reasons, Refusal } from '../../../../shared/refusal.js';
import { givenQuantity } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { queryRows } from '../../platform/database/rows.js';
import { Lineage } from '../../trace/lineage.js';
import { catalogueOf } from '../catalogue/catalogue.query.js';
import { Commands } from '../commands.js';
import { reworkNotDecided } from '../nonconformance/grants.query.js';
import type { Actor } from '../people/access.js';
import { lotStates } from '../stock/lot-state.query.js';
import { buildRecord } from './build-record.query.js';
import type { FoundSerial } from './fitting.decide.js';
import { type AskPart, decideReplace } from './replacing.decide.js';
import type { BuildRecordView, PartDto, ReplacePartDto } from './replacing.dto.js';
import { fittedNow } from './replacing.query.js';
import { gathered, runOrRefuse } from './run.service.js';
import { knownLocations } from './run-state.query.js';
import type { RunView } from './run-view.dto.js';
import { runView } from './run-view.query.js';
import { findSerials } from './serials.query.js';

/** Replacing parts in units, and what units are made of. */
@Injectable()
export class ReplacingService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
  ) {}

  replace(actor: Actor, code: string, dto: ReplacePartDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const run = await runOrRefuse(tx, code);
      const asked = [dto.unit, dto.removed, dto.fitted];
      const found = await findSerials(
        tx,
        asked.flatMap((part) => (part.serial && part.item ? [{ item: part.item, serials: [part.serial] }] : [])),
      );
      const parts = gathered((no) => ({
        unit: askedPart(no, dto.unit, found, '/unit'),
        removed: askedPart(no, dto.removed, found, '/removed'),
        fitted: askedPart(no, dto.fitted, found, '/fitted'),
      }));
      const { item, ...unit } = await unitOf(tx, parts.unit);
      const wanted = [
        { lot: unit.lot, spans: null },
        { lot: parts.removed.lot, spans: null },
        { lot: parts.fitted.lot, spans: parts.fitted.piece === undefined ? null : ([[parts.fitted.piece, parts.fitted.piece]] as const) },
      ];
      const fact = decideReplace(
        { unit, removed: parts.removed, fitted: parts.fitted, replacedAt: dto.at ?? at, reason: dto.reason, location: dto.location },
        {
          at,
          run,
          lots: await lotStates(tx, this.lineage, wanted),
          ...(await fittedNow(tx, unit.lot, unit.piece)),
          boms: (await catalogueOf(tx, 'bom')).filter((bom) => bom.item === item),
          undecided: await reworkNotDecided(tx, unit.lot, unit.piece),
          locationKnown: dto.location !== undefined && (await knownLocations(tx, [dto.location])).has(dto.location),
        },
      );
      await record([fact]);
      return (await runView(tx, code))!;
    });
  }

  async buildRecord(item: string, serial: string): Promise<BuildRecordView> {
    const view = await buildRecord(this.reader.manager, item, serial);
    if (!view) throw new Refusal('unknown', [{ code: 'serial-unknown', detail: `there is no ${item} with serial ${serial}` }]);
    return view;
  }
}

function askedPart(no: Reasons, dto: PartDto, found: readonly FoundSerial[], pointer: string): AskPart {
  const quantityMicro = givenQuantity(dto.quantity);
  if (dto.serial === undefined) {
    if (dto.lot === undefined) no.malformed('lot-missing', 'which lot, or which serial?', { pointer: `${pointer}/lot` });
    return { lot: dto.lot ?? '', piece: dto.piece, quantityMicro };
  }
  const one = found.find((known) => known.item === dto.item && known.serial === dto.serial);
  if (!one) no.unknown('serial-unknown', `there is no ${dto.item ?? 'item'} with serial ${dto.serial}`, { pointer: `${pointer}/serial` });
  return { lot: one?.lot ?? '', piece: one?.piece, quantityMicro };
}

interface Unit {
  readonly lot: string;
  readonly piece: number;
  readonly serial: string | null;
  readonly item: string;
}

/** The unit, which is a piece of a numbered lot. */
async function unitOf(tx: EntityManager, { lot, piece }: AskPart): Promise<Unit> {
  const [row] = await queryRows<{ item: string; pieces: number | null; serial: string | null }>(
    tx,
    'SELECT l."item", l."pieces", s."serial" FROM "lot" l LEFT JOIN "serial" s ON s."lot_id" = l."id" AND s."piece" = ? WHERE l."code" = ?',
    [piece ?? 0, lot],
  );
  if (!row) throw new Refusal('unknown', [{ code: 'lot-unknown', detail: `no lot ${lot}`, pointer: '/unit' }]);
  if (piece === undefined || piece > (row.pieces ?? 0)) {
    throw new Refusal('conflict', [
      { code: 'pieces-outside-lot', detail: `which unit of ${lot}? It has ${row.pieces ?? 0}`, pointer: '/unit/piece' },
    ]);
  }
  return { lot, piece, serial: row.serial, item: row.item };
}
