import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import { Reader } from '../../platform/database/reader.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { Commands, type RecordFacts } from '../commands.js';
import { knownFiles } from '../files/files.query.js';
import { instrumentStates } from '../instruments/instrument-state.query.js';
import type { Actor } from '../people/access.js';
import { nextDocument } from '../stock/codes.query.js';
import type { Unit } from '../stock/effects.facts.js';
import { decideBegin } from './begin.decide.js';
import type {
  BeginInspectionDto,
  DecideInspectionDto,
  InspectedItemDto,
  InspectionQueryDto,
  RecordResultDto,
  TakeTallyBackDto,
  TallyDto,
} from './inspection.dto.js';
import type { InspectionState } from './inspection-state.facts.js';
import { inspectionState, switchingOf } from './inspection-state.query.js';
import { queuedInspections } from './inspection-queue.query.js';
import type { InspectionView, QueuedInspectionView } from './inspection-view.dto.js';
import { inspectionView } from './inspection-view.query.js';
import type { MeasuringState } from './measure.decide.js';
import { decideResult } from './result.decide.js';
import { type AskedItem, decideTakeTallyBack, decideTally } from './tally.decide.js';
import { criticalHold, decideVerdict } from './verdict.decide.js';

const unknownInspection = (inspection: string): Refusal =>
  new Refusal('unknown', [{ code: 'inspection-unknown', detail: `no inspection ${inspection}`, inspection }]);

type Work = (tx: EntityManager, record: RecordFacts, state: InspectionState, at: string) => Promise<void>;

/** What an inspector does: begin, tally, measure, decide. */
@Injectable()
export class InspectionService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
  ) {}

  begin(actor: Actor, inspection: string, dto: BeginInspectionDto): Promise<InspectionView> {
    return this.#on(actor, inspection, dto, async (tx, record, state) => {
      await record([decideBegin(dto, { inspection: state, switching: await switchingOf(tx, state) })]);
    });
  }

  tally(actor: Actor, inspection: string, dto: TallyDto): Promise<InspectionView> {
    return this.#on(actor, inspection, dto, async (tx, record, state, at) => {
      const items = (dto.items ?? []).map(askedItem);
      const command = { sample: dto.sample ?? 1, conforming: dto.conforming ?? 0, items };
      const measuring = await measuringState(
        tx,
        state,
        at,
        items.flatMap((item) => item.measured.map((one) => one.instrument)),
      );
      const fact = decideTally(command, {
        ...measuring,
        inspection: state,
        defects: await catalogueByCode(tx, 'defect', defectsNamed(items, state)),
        knownFiles: await knownFiles(
          tx,
          items.flatMap((item) => item.files),
        ),
      });
      await record([fact]);
      const critical = fact.items.some((item) => item.found.some((found) => found.class === 'critical'));
      if (critical && !(await heldBy(tx, inspection))) {
        await record([criticalHold(state, { hold: await nextDocument(tx, 'hold', 'H'), inspector: actor.person })]);
      }
    });
  }

  takeTallyBack(actor: Actor, inspection: string, tally: number, dto: TakeTallyBackDto): Promise<InspectionView> {
    return this.#on(actor, inspection, dto, async (_tx, record, state) => {
      await record([decideTakeTallyBack({ tally, reason: dto.reason }, state)]);
    });
  }

  recordResult(actor: Actor, inspection: string, dto: RecordResultDto): Promise<InspectionView> {
    return this.#on(actor, inspection, dto, async (tx, record, state, at) => {
      const command = { ...dto, measuredAt: dto.measuredAt ?? at, files: dto.files ?? [] };
      const measuring = await measuringState(tx, state, command.measuredAt, [dto.instrument]);
      const known = await knownFiles(tx, command.files);
      const { bornAt } = await lotOf(tx, state.lot);
      await record([decideResult(command, { ...measuring, inspection: state, knownFiles: known, at, bornAt })]);
    });
  }

  decide(actor: Actor, inspection: string, dto: DecideInspectionDto): Promise<InspectionView> {
    return this.#on(actor, inspection, dto, async (tx, record, state) => {
      const facts = decideVerdict(dto, {
        inspection: state,
        switching: await switchingOf(tx, state),
        unit: (await lotOf(tx, state.lot)).unit,
        hold: await nextDocument(tx, 'hold', 'H'),
        inspector: actor.person,
        heldAlready: await heldBy(tx, inspection),
      });
      await record(facts);
    });
  }

  queue(query: InspectionQueryDto): Promise<QueuedInspectionView[]> {
    return queuedInspections(this.reader.manager, query);
  }

  async inspection(inspection: string): Promise<InspectionView> {
    const view = await inspectionView(this.reader.manager, inspection);
    if (!view) throw unknownInspection(inspection);
    return view;
  }

  #on(actor: Actor, inspection: string, dto: object, work: Work): Promise<InspectionView> {
    return this.commands.run(actor, { ...dto, inspection } as object, async (tx, record, at) => {
      const state = await inspectionState(tx, inspection);
      if (!state) throw unknownInspection(inspection);
      await work(tx, record, state, at);
      return (await inspectionView(tx, inspection))!;
    });
  }
}

const askedItem = (dto: InspectedItemDto): AskedItem => ({
  piece: dto.piece,
  found: (dto.found ?? []).map((one) => ({ ...one, count: one.count ?? 1 })),
  measured: dto.measured ?? [],
  files: dto.files ?? [],
  note: dto.note,
});

const defectsNamed = (items: readonly AskedItem[], { plan }: InspectionState): string[] => [
  ...items.flatMap((item) => item.found.flatMap((found) => found.defect ?? [])),
  ...plan.characteristics.flatMap((one) => (one.kind === 'attribute' ? (one.defect ?? []) : [])),
];

/** Instruments as they stood when they were used, and what the reference test of net content needs. */
async function measuringState(
  tx: EntityManager,
  { lotSize }: InspectionState,
  at: string,
  named: readonly (string | undefined)[],
): Promise<MeasuringState> {
  const codes = named.filter((code) => code !== undefined);
  const states = await instrumentStates(tx, codes, at);
  const registered = await catalogueByCode(tx, 'instrument', codes);
  const kinds = [...states].map(([code, state]) => [code, { ...state, kind: registered.get(code)?.kind ?? null }] as const);
  return { instruments: new Map(kinds), batchSize: lotSize };
}

/** Whether a finding of this inspection has stopped its lot, and nobody has lifted that. */
async function heldBy(tx: EntityManager, inspection: string): Promise<boolean> {
  const rows = await queryRows(
    tx,
    `SELECT 1 AS "one" FROM "entry_subject" s JOIN "hold" h ON h."placed_seq" = s."seq"
     WHERE s."kind" = 'inspection' AND s."code" = ? AND h."lifted_seq" IS NULL LIMIT 1`,
    [inspection],
  );
  return rows.length > 0;
}

async function lotOf(tx: EntityManager, lot: string): Promise<{ unit: Unit; bornAt: string }> {
  const [row] = await queryRows<{ unit: Unit; born_at: string }>(tx, 'SELECT "unit", "born_at" FROM "lot" WHERE "code" = ?', [lot]);
  return { unit: row!.unit, bornAt: row!.born_at };
}
