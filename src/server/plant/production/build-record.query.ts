import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO, parseQuantity, sumMicro } from '../../../../shared/quantity.js';
import { coversSpans, parseSpans } from '../../../../shared/spans.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import type { BuildRecordView, BuiltPartView } from './replacing.dto.js';
import { replacementsOf, shareOf, type UnitLink, unitLinks } from './replacing.query.js';
import type { RunLabel } from './run.facts.js';
import { runRow } from './run-state.query.js';
import type { ReplacementView } from './run-view.dto.js';

interface UnitRow {
  lot_id: number;
  piece: number;
  lot: string;
  source: string;
  born_at: string;
  name: string;
}

/** What a unit was built of, what is in it now and what was replaced; undefined for an unknown serial. */
export async function buildRecord(from: EntityManager, item: string, serial: string): Promise<BuildRecordView | undefined> {
  const [unit] = await queryRows<UnitRow>(
    from,
    `SELECT s."lot_id", s."piece", l."code" AS "lot", l."source", l."born_at" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id"
     WHERE s."item" = ? AND s."serial" = ?`,
    [item, serial],
  );
  if (!unit) return undefined;
  const run = await runRow(from, unit.source);
  const replaced = await replacementsOf(from, { unitLot: unit.lot, unitPiece: unit.piece });
  const parts = await partsOf(from, unit, replaced);
  const reworks = new Set(replaced.map((one) => one.run));
  return {
    item,
    name: (await catalogueByCode(from, 'item', [item])).get(item)?.name ?? item,
    serial,
    lot: unit.lot,
    piece: unit.piece,
    run: unit.source,
    builtAt: unit.born_at,
    builtBy: run ? (JSON.parse(run.people) as string[]) : [],
    label: run?.label ? (JSON.parse(run.label) as RunLabel).text : null,
    status: (await partWith(from, 'lot_status', '"status"', unit)) ?? 'quarantine',
    place: (await partWith(from, 'whereabout', `"fate" || ' ' || "at"`, unit)) ?? '',
    asBuilt: parts.filter((part) => !reworks.has(part.run)),
    asIs: parts.filter((part) => part.replacedSeq === null || part.mayStillHold !== null),
    replaced,
  };
}

/** The status or place of one piece: the current row of the lot that has it. */
async function partWith(from: EntityManager, table: 'lot_status' | 'whereabout', what: string, unit: UnitRow): Promise<string | undefined> {
  const rows = await queryRows<{ what: string; spans: string }>(
    from,
    `SELECT ${what} AS "what", "spans" FROM "${table}" WHERE "lot_id" = ? AND "until_seq" IS NULL`,
    [unit.lot_id],
  );
  return rows.find((row) => coversSpans(parseSpans(row.spans), [[unit.piece, unit.piece]]))?.what;
}

async function partsOf(from: EntityManager, unit: UnitRow, replaced: readonly ReplacementView[]): Promise<BuiltPartView[]> {
  const links = await unitLinks(from, unit.lot, unit.piece);
  const items = await catalogueByCode(
    from,
    'item',
    links.map((link) => link.item),
  );
  const parts: BuiltPartView[] = [];
  for (const link of links) {
    const outs = replacedOf(link, replaced);
    const out = outs.at(-1);
    parts.push({
      item: link.item,
      name: items.get(link.item)?.name ?? link.item,
      lot: link.lot,
      supplier: link.supplier,
      supplierLot: link.supplierLot,
      piece: link.piece,
      serial: link.piece === null ? null : await serialOf(from, link.lot, link.piece),
      anyOf: link.piece === null && link.fromFirst > 0 ? `${link.fromFirst}-${link.fromLast}` : null,
      run: link.run,
      kind: link.kind,
      at: link.at,
      seq: link.seq,
      mayStillHold: out ? leftOf(link, links, outs) : null,
      replacedAt: out?.at ?? null,
      replacedSeq: out?.seq ?? null,
    });
  }
  return parts;
}

/** The replacements that took this part out, or some of it: of a numbered part the one that names its piece, of a bulk lot all that name the lot. */
const replacedOf = (link: UnitLink, replaced: readonly ReplacementView[]): ReplacementView[] =>
  replaced.filter((one) => one.oldLot === link.lot && one.seq > link.seq && (one.oldPiece === null || one.oldPiece === link.piece));

/**
 * What is left in the unit of a bulk lot that had some taken out, by the share of each unit in what its run took; null: nothing.
 * Counted parts are left whole or not at all.
 * @see docs/rules/production.md P-45
 */
function leftOf(link: UnitLink, links: readonly UnitLink[], outs: readonly ReplacementView[]): string | null {
  if (link.fromFirst > 0) return null;
  const had = sumMicro(links.filter((other) => other.lot === link.lot && other.seq === link.seq).map(shareOf));
  const left = had - sumMicro(outs.map((one) => parseQuantity(one.oldQuantity)));
  const whole = link.unit === 'each' ? left - (left % MICRO) : left;
  return whole > 0 ? formatQuantity(whole) : null;
}

async function serialOf(from: EntityManager, lot: string, piece: number): Promise<string | null> {
  const [row] = await queryRows<{ serial: string }>(
    from,
    'SELECT s."serial" FROM "serial" s JOIN "lot" l ON l."id" = s."lot_id" WHERE l."code" = ? AND s."piece" = ?',
    [lot, piece],
  );
  return row?.serial ?? null;
}
