import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, intersectSpans, parseSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import { placesAt } from '../../trace/trace.query.js';
import type { Ground } from './ground.js';
import { amountOf, grouped, waited, type Waiting } from './waiting.js';

interface HoldRow {
  code: string;
  lot: string;
  item: string;
  spans: string | null;
  quantity: unknown;
  unit: string;
  reaches: boolean | number;
  reason: string;
  owner: string;
  placed_at: string;
}

/** Holds in force, each with the first of its lots. */
export async function openHoldsWaiting({ from, actor, now }: Ground): Promise<Waiting[]> {
  const rows = await queryRows<HoldRow>(
    from,
    `SELECT h."code", l."code" AS "lot", l."item", h."spans", h."quantity", l."unit", h."reaches", h."reason", h."owner", h."placed_at"
     FROM "hold" h JOIN "lot" l ON l."id" = h."lot_id" WHERE h."lifted_seq" IS NULL ORDER BY h."placed_seq", h."lot_id"`,
  );
  return [...grouped(rows, (row) => row.code).values()].map((of): Waiting => {
    const [first] = of as [HoldRow];
    const more = of.length > 1 ? ` and ${of.length - 1} more` : '';
    const part = of.length > 1 ? '' : partWords(first);
    return {
      kind: 'hold',
      code: first.code,
      lot: first.lot,
      item: first.item,
      since: first.placed_at,
      mine: first.owner === actor.person,
      says: `${part}${first.lot}${more}${first.reaches ? ', and what was made from it' : ''}, held ${waited(first.placed_at, now)}: ${first.reason}`,
      step: { label: 'Look into the hold', place: 'hold', code: first.code },
    };
  });
}

function partWords({ spans, quantity, unit }: HoldRow): string {
  if (quantity !== null) return `${amountOf(safeInteger(quantity), unit)} of `;
  return spans === null ? '' : `pieces ${spans} of `;
}

/** Signed decisions to use a lot although something stands against it, which nobody has closed. */
export async function urgentReleasesWaiting({ from, now, nameOf }: Ground): Promise<Waiting[]> {
  const rows = await queryRows<{
    code: string;
    lot: string;
    item: string;
    spans: string | null;
    sets_aside: string;
    signed_by: string;
    at: string;
  }>(
    from,
    `SELECT u."code", l."code" AS "lot", l."item", u."spans", u."sets_aside", u."signed_by", e."at"
     FROM "urgent_release" u JOIN "lot" l ON l."id" = u."lot_id" JOIN "ledger_entry" e ON e."seq" = u."opened_seq" WHERE u."closed_seq" IS NULL`,
  );
  return rows.map((row): Waiting => ({
    kind: 'urgent-release',
    code: row.code,
    lot: row.lot,
    item: row.item,
    since: row.at,
    by: ['quality'],
    says: `${row.spans === null ? '' : `pieces ${row.spans} of `}${nameOf(row.item)} in use although ${row.sets_aside.split(',').join(' and ')} ${waited(row.at, now)}, signed by ${row.signed_by}`,
    step: { label: 'Settle what was set aside', place: 'lot', code: row.lot },
  }));
}

interface ReturnRow {
  code: string;
  customer: string;
  returned_at: string;
  id: number;
  lot: string;
  item: string;
  unit: string;
  pieces: number | null;
  spans: string | null;
  in_quarantine: string | null;
}

const RETURNED = `SELECT g."code", g."customer", g."returned_at", l."id", l."code" AS "lot", l."item", l."unit", l."pieces", n."spans",
    s."spans" AS "in_quarantine" FROM "lot_status" s JOIN "lot" l ON l."id" = s."lot_id"`;
const STANDS = `JOIN "goods_return" g ON g."code" = n."return_code"
  WHERE s."status" = 'quarantine' AND s."until_seq" IS NULL AND g."reversed_seq" IS NULL`;

/** Lines of returns that still stand in quarantine: pieces of their old lot, or a bulk lot of its own. */
async function returnedInQuarantine(from: Ground['from']): Promise<ReturnRow[]> {
  return [
    ...(await queryRows<ReturnRow>(from, `${RETURNED} JOIN "return_line" n ON n."lot_id" = l."id" AND n."becomes" IS NULL ${STANDS}`)),
    ...(await queryRows<ReturnRow>(
      from,
      `${RETURNED} JOIN "return_line" n ON n."return_code" = l."source" AND n."becomes" = l."code" ${STANDS} AND l."origin" = 'returned'`,
    )),
  ];
}

/** What came back and stands in quarantine, by lot: its pieces as they came, or null for all of a bulk lot. It waits among the returns. */
export async function returnedOf(from: Ground['from']): Promise<Map<number, SpanSet | null>> {
  const returned = new Map<number, SpanSet | null>();
  for (const { id, spans } of await returnedInQuarantine(from)) {
    const known = returned.get(id);
    returned.set(id, spans === null || known === null ? null : unionSpans(known ?? [], parseSpans(spans)));
  }
  return returned;
}

/** Goods that came back and still stand in quarantine. */
export async function returnsWaiting({ from, known, now, nameOf }: Ground): Promise<Waiting[]> {
  const rows = await returnedInQuarantine(from);
  const here = await placesAt(
    from,
    rows.map((row) => row.id),
    known.seq,
    'on-hand',
  );
  const left = rows.flatMap((row) => {
    const parts = here.filter((part) => part.lotId === row.id);
    const onHand = parts.reduce((sum, part) => sum + part.quantityMicro, 0);
    if (row.spans === null) return onHand > 0 ? [{ row, micro: onHand }] : [];
    const back = intersectSpans(parseSpans(row.spans), row.in_quarantine === null ? [] : parseSpans(row.in_quarantine));
    const pieces = parts.reduce((sum, part) => sum + countPieces(intersectSpans(back, part.spans ?? [])), 0);
    return pieces > 0 ? [{ row, micro: pieces * MICRO }] : [];
  });
  return [...grouped(left, ({ row }) => row.code)].map(([code, of]): Waiting => {
    const [{ row, micro }] = of as [(typeof of)[number]];
    const more = of.length > 1 ? ` and ${of.length - 1} more` : '';
    return {
      kind: 'return',
      code,
      lot: row.lot,
      item: row.item,
      since: row.returned_at,
      by: ['quality'],
      says: `${amountOf(micro, row.unit)} ${nameOf(row.item)}${more} back from ${row.customer}, in quarantine ${waited(row.returned_at, now)}`,
      step: { label: 'Judge what came back', place: 'lot', code: row.lot },
    };
  });
}
