import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { countPieces, parseSpans } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueRevision } from '../catalogue/catalogue.query.js';
import type { Deviation, MassBalance, NetWeights, YieldFigures } from './run.facts.js';
import type { RunRow } from './run-state.query.js';
import type { AcceptanceView, MassBalanceView, NetWeightsView, RunResultView, RunYieldView } from './run-view.dto.js';

const MOST_SERIALS = 1000;

/** What a run yielded, with its quality status through time (21 CFR 820.184), or null. */
export async function yieldView(tx: EntityManager, row: RunRow): Promise<RunYieldView | null> {
  if (row.lot === null) return null;
  const [lot] = await queryRows<{
    id: number;
    item: string;
    item_revision: number;
    unit: string;
    quantity: unknown;
    pieces: number | null;
    born_at: string;
    born_seq: number;
    made_on: string | null;
    expires_on: string | null;
  }>(tx, 'SELECT * FROM "lot" WHERE "code" = ?', [row.lot]);
  const item = await catalogueRevision(tx, 'item', lot!.item, lot!.item_revision);
  const places = await queryRows<{ at: string }>(
    tx,
    `SELECT "at" FROM "whereabout" WHERE "lot_id" = ? AND "since_seq" = ? AND "fate" = 'on-hand' ORDER BY "at"`,
    [lot!.id, lot!.born_seq],
  );
  const serials = await queryRows<{ serial: string }>(
    tx,
    `SELECT "serial" FROM "serial" WHERE "lot_id" = ? ORDER BY "piece" LIMIT ${MOST_SERIALS}`,
    [lot!.id],
  );
  return {
    lot: row.lot,
    item: lot!.item,
    name: item?.name ?? lot!.item,
    gtin: item?.gtin ?? null,
    quantity: formatQuantity(safeInteger(lot!.quantity)),
    unit: lot!.unit,
    pieces: lot!.pieces,
    serials: serials.map(({ serial }) => serial),
    place: places[0]?.at ?? null,
    finishedAt: lot!.born_at,
    madeOn: lot!.made_on,
    expiresOn: lot!.expires_on,
    ...(await acceptanceOf(tx, lot!.id, safeInteger(lot!.quantity))),
  };
}

/** Every status the lot took, and how much of it is released now. */
async function acceptanceOf(
  tx: EntityManager,
  lotId: number,
  quantityMicro: number,
): Promise<{ released: string; acceptance: AcceptanceView[] }> {
  const rows = await queryRows<{
    status: string;
    spans: string | null;
    since_seq: number;
    until_seq: number | null;
    at: string;
    actor: string;
  }>(
    tx,
    `SELECT s."status", s."spans", s."since_seq", s."until_seq", e."at", e."actor"
     FROM "lot_status" s JOIN "ledger_entry" e ON e."seq" = s."since_seq" WHERE s."lot_id" = ? ORDER BY s."since_seq", s."status"`,
    [lotId],
  );
  const now = rows.find((row) => row.status === 'released' && row.until_seq === null);
  const releasedMicro = now === undefined ? 0 : now.spans === null ? quantityMicro : countPieces(parseSpans(now.spans)) * MICRO;
  return {
    released: formatQuantity(releasedMicro),
    acceptance: rows.map((row) => ({ status: row.status, pieces: row.spans, at: row.at, by: row.actor, seq: row.since_seq })),
  };
}

interface Result {
  readonly rejected: string;
  readonly rejectReason: string | null;
  readonly netWeights: NetWeights | null;
  readonly figures: YieldFigures;
  readonly deviations: readonly Deviation[];
  readonly deviationReason: string | null;
  readonly unsure: readonly string[];
  readonly note: string | null;
}

const percent = (bp: number): string => (bp / 100).toFixed(2);

/** What the closing found. */
export function resultView(row: RunRow): RunResultView | null {
  if (row.result === null) return null;
  const result = JSON.parse(row.result) as Result;
  const { theoryMicro, yieldBp, limitsBp, mass, components } = result.figures;
  return {
    rejected: result.rejected === '' ? null : result.rejected,
    rejectReason: result.rejectReason,
    netWeights: result.netWeights && weightsView(result.netWeights),
    theory: theoryMicro === null ? null : formatQuantity(theoryMicro),
    yieldPercent: yieldBp === null ? null : percent(yieldBp),
    yieldLimits: limitsBp === null ? null : `${percent(limitsBp[0])} to ${percent(limitsBp[1])}`,
    mass: mass && massView(mass),
    components: components.map((component) => ({
      item: component.item,
      charged: formatQuantity(component.chargedMicro),
      needed: formatQuantity(component.neededMicro),
      over: formatQuantity(component.chargedMicro - component.neededMicro),
    })),
    deviations: result.deviations.map(({ what, detail }) => ({ what, detail })),
    deviationReason: result.deviationReason,
    unsure: [...result.unsure],
    note: result.note,
  };
}

const weightsView = (weights: NetWeights): NetWeightsView => ({
  count: weights.count,
  mean: formatQuantity(weights.meanMicro),
  sd: formatQuantity(weights.sdMicro),
  min: formatQuantity(weights.minMicro),
  max: formatQuantity(weights.maxMicro),
});

const massView = (mass: MassBalance): MassBalanceView => ({
  charged: formatQuantity(mass.chargedMicro),
  filled: formatQuantity(mass.filledMicro),
  rejected: formatQuantity(mass.rejectedMicro),
  loss: formatQuantity(mass.lossMicro),
  lossPercent: percent(mass.lossBp),
  basis: mass.basis,
});
