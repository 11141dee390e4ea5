import { addDays } from '../../../../shared/time.js';
import { safeInteger } from '../../platform/database/columns.js';
import { queryRows } from '../../platform/database/rows.js';
import type { Ground } from './ground.js';
import { amountOf, dayWords, MOST_LINES, waited, type Waiting, type Waits } from './waiting.js';

/** Runs that are not closed, oldest first. */
export async function runsWaiting({ from, now, nameOf }: Ground): Promise<Waiting[]> {
  const rows = await queryRows<{ code: string; kind: string; item: string; place: string | null; started_at: string; charges: unknown }>(
    from,
    `SELECT r."code", r."kind", r."item", coalesce(r."vessel", r."line") AS "place", r."started_at",
       (SELECT count(*) FROM "run_charge" c WHERE c."run" = r."code") AS "charges" FROM "run" r WHERE r."closed_seq" IS NULL`,
  );
  return rows.map((row): Waiting => {
    const charged = safeInteger(row.charges);
    return {
      kind: 'run',
      code: row.code,
      lot: null,
      item: row.item,
      since: row.started_at,
      by: ['operator', 'administrator'],
      says: `${row.place === null ? '' : `${row.place}: `}${row.kind} of ${nameOf(row.item)}, open ${waited(row.started_at, now)}, ${charged === 0 ? 'nothing charged yet' : charged === 1 ? '1 charge' : `${charged} charges`}`,
      step: { label: 'Go on with the run', place: 'run', code: row.code },
    };
  });
}

/** What closings of runs found out of their limits and nobody has explained (21 CFR 211.192). */
export async function findingsWaiting({ from, nameOf }: Ground): Promise<Waiting[]> {
  const rows = await queryRows<{ run: string; what: string; detail: string; item: string; lot: string | null; at: string }>(
    from,
    `SELECT v."run", v."what", v."detail", r."item", r."lot", e."at" FROM "run_investigation" v JOIN "run" r ON r."code" = v."run"
     JOIN "ledger_entry" e ON e."seq" = v."opened_seq" WHERE v."explained_seq" IS NULL`,
  );
  return rows.map((row): Waiting => ({
    kind: 'finding',
    code: row.run,
    lot: row.lot,
    item: row.item,
    since: row.at,
    by: ['operator', 'quality', 'administrator'],
    says: `${nameOf(row.item)}: ${row.detail}`,
    step: { label: 'Explain the finding', place: 'run', code: row.run },
  }));
}

const EXPIRES_SOON_DAYS = 30;

interface ExpiringRow {
  code: string;
  item: string;
  unit: string;
  born_at: string;
  expires_on: string;
  here: unknown;
  places: string;
  total: unknown;
  oldest: string;
}

/** Stock on hand that expires within 30 days, or has: the first to expire of it, as a plant may hold very much. */
export async function expiringWaiting({ from, today, nameOf }: Ground): Promise<Waits> {
  const rows = await queryRows<ExpiringRow>(
    from,
    `SELECT l."code", l."item", l."unit", l."born_at", l."expires_on", p."here", p."places", count(*) OVER () AS "total",
       min(l."born_at") OVER () AS "oldest"
     FROM (SELECT "lot_id", sum("quantity") AS "here", min("at") AS "places" FROM "whereabout"
           WHERE "fate" = 'on-hand' AND "until_seq" IS NULL AND "quantity" > 0 GROUP BY "lot_id") p
     JOIN "lot" l ON l."id" = p."lot_id" WHERE l."expires_on" <= ? ORDER BY l."expires_on", l."id" LIMIT ${MOST_LINES}`,
    [addDays(today, EXPIRES_SOON_DAYS)],
  );
  const first = rows.map((row): Waiting => {
    const expired = row.expires_on < today;
    return {
      kind: 'lot',
      code: row.code,
      lot: row.code,
      item: row.item,
      since: row.born_at,
      due: row.expires_on,
      ...(expired ? { by: ['operator', 'quality'] } : {}),
      overdue: expired,
      says: `${amountOf(safeInteger(row.here), row.unit)} ${nameOf(row.item)} at ${row.places}, ${expired ? 'expired' : 'expires'} ${dayWords(row.expires_on, today)}`,
      step: { label: expired ? 'Decide what becomes of it' : 'Use it first', place: 'lot', code: row.code },
    };
  });
  return { first, total: safeInteger(rows[0]?.total ?? 0), oldestAt: rows[0]?.oldest ?? today };
}

/** Deliveries looked at for today's: more are not booked in a day. */
const NEWEST = 500;

/** What was booked in today, whose labels are still to be stuck on. */
export async function deliveriesWaiting({ from, today, nameOf }: Ground): Promise<Waiting[]> {
  const rows = await queryRows<{
    code: string;
    supplier: string;
    document_type: string;
    document: string;
    at: string;
    lines: unknown;
    item: string;
  }>(
    from,
    `SELECT d."code", d."supplier", d."document_type", d."document", e."at", count(*) AS "lines", min(l."item") AS "item"
     FROM (SELECT * FROM "delivery" WHERE "reversed_seq" IS NULL ORDER BY "booked_seq" DESC LIMIT ${NEWEST}) d
     JOIN "ledger_entry" e ON e."seq" = d."booked_seq" JOIN "delivery_line" n ON n."delivery" = d."code" JOIN "lot" l ON l."code" = n."lot"
     WHERE e."at" >= ? GROUP BY d."code", d."supplier", d."document_type", d."document", e."at"`,
    [today],
  );
  return rows.map((row): Waiting => {
    const lines = safeInteger(row.lines);
    return {
      kind: 'delivery',
      code: row.code,
      lot: null,
      item: row.item,
      since: row.at,
      says: `${lines === 1 ? nameOf(row.item) : `${lines} lots`} from ${row.supplier}, ${row.document_type} ${row.document}`,
      step: { label: 'Print its labels', place: 'delivery', code: row.code },
    };
  });
}
