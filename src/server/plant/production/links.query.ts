import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { wholeLot } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Lineage } from '../../trace/lineage.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import type { LotState } from '../stock/lot-state.facts.js';
import { lotStates } from '../stock/lot-state.query.js';
import type { StandingLink } from './correcting.decide.js';
import type { CorrectLinks, LinkCorrectingState } from './link-correcting.decide.js';
import type { RecordedLinkView } from './link-correcting.dto.js';
import { knownLocations, runRow } from './run-state.query.js';

export interface LinkRow {
  seq: number;
  ord: number;
  run: string;
  kind: string;
  at: string;
  from: string;
  to: string;
  from_first: number;
  from_last: number;
  to_first: number;
  to_last: number;
  quantity: unknown;
  mass: unknown;
  each: boolean | number;
  void_seq: number | null;
}

const linkRows = (tx: EntityManager, run: string): Promise<LinkRow[]> =>
  queryRows<LinkRow>(
    tx,
    `SELECT k.*, f."code" AS "from", t."code" AS "to" FROM "link" k
     JOIN "lot" f ON f."id" = k."from_lot" JOIN "lot" t ON t."id" = k."to_lot" WHERE k."run" = ? ORDER BY k."seq", k."ord"`,
    [run],
  );

const pieces = (first: number, last: number): string | null => (first === 0 ? null : first === last ? `${first}` : `${first}-${last}`);

/** Every link of a making step, voided ones too: both stay readable. */
export async function recordedLinks(tx: EntityManager, run: string): Promise<RecordedLinkView[]> {
  return (await linkRows(tx, run)).map((row) => ({
    seq: row.seq,
    ord: row.ord,
    run: row.run,
    kind: row.kind,
    at: row.at,
    from: row.from,
    fromPieces: pieces(row.from_first, row.from_last),
    to: row.to,
    toPieces: pieces(row.to_first, row.to_last),
    quantity: formatQuantity(safeInteger(row.quantity)),
    mass: formatQuantity(safeInteger(row.mass)),
    map: row.each ? 'each' : 'all',
    voidSeq: row.void_seq,
  }));
}

/** A link as a correction looks at it. */
export const standingLink = (row: LinkRow): StandingLink => ({
  seq: row.seq,
  ord: row.ord,
  at: row.at,
  from: row.from,
  fromSpan: row.from_first === 0 ? null : [row.from_first, row.from_last],
  to: row.to,
  toSpan: row.to_first === 0 ? null : [row.to_first, row.to_last],
  quantityMicro: safeInteger(row.quantity),
  massMicro: safeInteger(row.mass),
  map: row.each ? 'each' : 'all',
});

/** What correcting links rests on. */
export async function linkCorrectingState(
  tx: EntityManager,
  lineage: Lineage,
  command: CorrectLinks,
  at: string,
): Promise<LinkCorrectingState> {
  const standing = (await linkRows(tx, command.run)).filter((row) => row.void_seq === null).map(standingLink);
  const voided = standing.filter((link) => command.voids.some((one) => one.seq === link.seq && one.ord === link.ord));
  const wanted = [
    ...voided.map((link) => ({ lot: link.from, spans: null })),
    ...command.links.flatMap((link) => [
      { lot: link.from, spans: link.fromPieces ?? null },
      { lot: link.to, spans: link.toPieces ?? null },
    ]),
  ];
  const lots = await lotStates(tx, lineage, wanted);
  return {
    at,
    standing,
    hasRecord: (await runRow(tx, command.run)) !== undefined,
    lots,
    items: await catalogueByCode(
      tx,
      'item',
      [...lots.values()].map((lot) => lot.item),
    ),
    locationKnown: command.location !== undefined && (await knownLocations(tx, [command.location])).has(command.location),
    loops: await loopsOf(tx, lineage, command, lots),
  };
}

async function loopsOf(
  tx: EntityManager,
  lineage: Lineage,
  command: CorrectLinks,
  lots: ReadonlyMap<string, LotState>,
): Promise<{ from: string; to: string }[]> {
  const loops: { from: string; to: string }[] = [];
  for (const link of command.links) {
    const [from, to] = [lots.get(link.from), lots.get(link.to)];
    if (!from || !to) continue;
    const above = await lineage.ancestors(tx, { lotId: from.id, spans: from.pieces === null ? null : wholeLot(from.pieces) });
    if (above.some((part) => part.lotId === to.id)) loops.push({ from: link.from, to: link.to });
  }
  return loops;
}
