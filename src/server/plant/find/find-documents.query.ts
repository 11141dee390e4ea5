import type { EntityManager } from 'typeorm';
import { writtenDate } from '../../../../shared/written.js';
import type { FoundKind } from './find.dto.js';
import { fittingRows, type Looked } from './find-rows.query.js';
import type { Match, Matches } from './matching.js';

/** A kind of numbered record: where it is looked for, and what one of them is, in a line. */
interface Documents<Row> extends Looked {
  readonly kind: FoundKind;
  readonly of: (row: Row) => string | null;
  readonly says: (row: Row) => string;
}

const undone = (seq: number | null): string => (seq === null ? '' : ', taken back');
const documents = <Row>(kind: Documents<Row>): Documents<unknown> => kind as Documents<unknown>;

const KINDS: readonly Documents<unknown>[] = [
  documents<{ supplier: string; document_type: string; document: string; received_at: string; reversed_seq: number | null }>({
    kind: 'delivery',
    from: '"delivery" d',
    code: 'd."code"',
    alsoBy: ['d."document"'],
    columns: 'd."code", d."supplier", d."document_type", d."document", d."received_at", d."reversed_seq"',
    of: (row) => row.supplier,
    says: (row) =>
      `received ${writtenDate(row.received_at)} from ${row.supplier}, ${row.document_type} ${row.document}${undone(row.reversed_seq)}`,
  }),
  documents<{ kind: string; item: string; place: string | null; started_at: string; closed_seq: number | null; lot: string | null }>({
    kind: 'run',
    from: '"run" r',
    code: 'r."code"',
    columns: 'r."code", r."kind", r."item", coalesce(r."vessel", r."line") AS "place", r."started_at", r."closed_seq", r."lot"',
    of: (row) => row.lot,
    says: (row) =>
      `${row.kind} of ${row.item}${row.place === null ? '' : ` at ${row.place}`}, begun ${writtenDate(row.started_at)}, ${row.closed_seq === null ? 'still open' : `made ${row.lot ?? 'nothing'}`}`,
  }),
  documents<{ lot: string; item: string; occasion: string; state: string; verdict: string | null; opened_at: string }>({
    kind: 'inspection',
    from: '"inspection" i',
    code: 'i."code"',
    columns: 'i."code", i."lot", i."item", i."occasion", i."state", i."verdict", i."opened_at"',
    of: (row) => row.lot,
    says: (row) =>
      `of lot ${row.lot}, ${row.item}, for a ${row.occasion}, opened ${writtenDate(row.opened_at)}, ${row.verdict ?? row.state}`,
  }),
  documents<{ lots: unknown; lot: string; reason: string; open: unknown }>({
    kind: 'hold',
    from: `(SELECT h."code", count(*) AS "lots", min(l."code") AS "lot", min(h."reason") AS "reason",
                   count(*) - count(h."lifted_seq") AS "open" FROM "hold" h JOIN "lot" l ON l."id" = h."lot_id" GROUP BY h."code") o`,
    code: 'o."code"',
    columns: 'o."code", o."lots", o."lot", o."reason", o."open"',
    of: (row) => row.lot,
    says: (row) =>
      `on ${row.lot}${Number(row.lots) > 1 ? ` and ${Number(row.lots) - 1} more` : ''}, ${Number(row.open) > 0 ? 'in force' : 'lifted'}: ${row.reason}`,
  }),
  documents<{ state: string; severity: string; requirement: string; raised_at: string }>({
    kind: 'report',
    from: '"report" n',
    code: 'n."code"',
    columns: 'n."code", n."state", n."severity", n."requirement", n."raised_at"',
    of: () => null,
    says: (row) => `${row.severity}, raised ${writtenDate(row.raised_at)}, ${row.state}: ${row.requirement}`,
  }),
  documents<{ title: string; drill: boolean | number }>({
    kind: 'recall',
    from: '"recall" c',
    code: 'c."code"',
    alsoBy: ['c."title"'],
    columns: 'c."code", c."title", c."drill"',
    of: () => null,
    says: (row) => `${row.drill ? 'DRILL: ' : ''}${row.title}`,
  }),
  documents<{ customer: string; document: string | null; shipped_at: string; reversed_seq: number | null }>({
    kind: 'shipment',
    from: '"shipment" t',
    code: 't."code"',
    alsoBy: ['t."document"'],
    columns: 't."code", t."customer", t."document", t."shipped_at", t."reversed_seq"',
    of: (row) => row.customer,
    says: (row) =>
      `shipped ${writtenDate(row.shipped_at)} to ${row.customer}${row.document === null ? '' : `, ${row.document}`}${undone(row.reversed_seq)}`,
  }),
  documents<{ customer: string; document: string; returned_at: string; reversed_seq: number | null }>({
    kind: 'return',
    from: '"goods_return" g',
    code: 'g."code"',
    alsoBy: ['g."document"'],
    columns: 'g."code", g."customer", g."document", g."returned_at", g."reversed_seq"',
    of: (row) => row.customer,
    says: (row) => `came back ${writtenDate(row.returned_at)} from ${row.customer}, ${row.document}${undone(row.reversed_seq)}`,
  }),
];

/** Deliveries, runs, inspections, holds, reports, recalls, shipments and returns that fit what was typed. */
export async function findDocuments(from: EntityManager, asked: string, limit: number): Promise<Matches[]> {
  const found: Matches[] = [];
  for (const kind of KINDS) {
    const { rows, total } = await fittingRows<{ code: string }>(from, kind, asked, limit);
    const matches = rows.map((row): Match => ({
      rank: row.rank,
      found: {
        kind: kind.kind,
        code: row.code,
        of: kind.of(row),
        lot: null,
        supplier: null,
        piece: null,
        says: kind.says(row),
      },
    }));
    found.push({ matches, total });
  }
  return found;
}
