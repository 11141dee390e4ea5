import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { formatQuantity, MICRO } from '../../../../shared/quantity.js';
import { countPieces, formatSpans } from '../../../../shared/spans.js';
import { queryRows, selectIn, type Value } from '../../platform/database/rows.js';
import { accountView } from './account-view.js';
import { accountsOf, addsUp } from './adds-up.decide.js';
import { ReportConsignees } from './consignees.service.js';
import { isContained } from './contain.decide.js';
import type { AffectedPart } from './nonconformance.facts.js';
import { openHoldsOf } from './report-holds.query.js';
import type { Report } from './report-state.facts.js';
import type { ReportPartView, ReportConsigneeView, ReportLineView, ReportView } from './report-view.dto.js';
import type { ReportQueryDto } from './report.dto.js';
import { reportState } from './report.query.js';
import { MOVES } from './states.facts.js';

const CRITICAL =
  'Critical: somebody can be hurt. Stop what is affected first. Telling customers and authorities in time is a duty of the people responsible under ' +
  'the law of each place; this record does not do it for them.';

interface LotOf {
  readonly item: string;
  readonly unit: string;
}

/** Reports as they are shown. */
@Injectable()
export class ReportViews {
  constructor(private readonly consignees: ReportConsignees) {}

  /** Undefined if there is no report of that number. */
  async view(from: EntityManager, code: string): Promise<ReportView | undefined> {
    const report = await reportState(from, code);
    const [line] = report ? await reportLines(from, {}, code) : [];
    if (!report || !line) return undefined;
    const lots = await lotsOf(from, report);
    const holds = await openHoldsOf(from, report);
    const accounts = accountsOf(report);
    const { found, defects, measured, files, foundBy, foundAt, parts } = report.raised.fact;
    return {
      ...line,
      found,
      defects: [...defects],
      measured: [...measured],
      files: [...files],
      foundBy,
      foundAt,
      parts: parts.map((part) => partView(part, lots)),
      judged: report.judged.map(({ fact, at, actor }) => ({
        ...partView(fact.part, lots),
        relation: fact.relation,
        affected: fact.affected,
        reason: fact.reason,
        by: actor,
        at,
      })),
      accounts: accounts.map((account) => accountView(account, lots.get(account.lot)!.unit)),
      addsUp: addsUp(accounts),
      holds: holds.map((one) => ({
        hold: one.hold,
        lot: one.lot,
        pieces: one.spans === null ? null : formatSpans(one.spans),
        quantity: one.quantityMicro === null ? null : formatQuantity(one.quantityMicro),
      })),
      contained: isContained(report, holds),
      review:
        report.review === null
          ? null
          : {
              investigate: report.review.investigate.needed,
              investigateReason: report.review.investigate.reason,
              inform: report.review.inform.needed,
              informReason: report.review.inform.reason,
              by: report.review.by,
              seq: report.review.seq,
            },
      consignees: await this.#consignees(from, report),
      next: MOVES.filter((move) => move.from === report.state).map(({ to, by, may }) => ({ to, by, may: [...may] })),
      caution: report.severity === 'critical' ? CRITICAL : null,
    };
  }

  async #consignees(from: EntityManager, report: Report): Promise<ReportConsigneeView[]> {
    const list = await this.consignees.consigneesOf(from, report);
    return list.map(({ customer, affectedPieces, shipments }) => ({
      customer,
      affectedPieces,
      shipments: [...new Set(shipments.map((one) => one.shipment))],
      told: report.told
        .filter((one) => one.fact.customer === customer)
        .map(({ actor, fact }) => ({ at: fact.toldAt, channel: fact.channel, what: fact.what, by: actor })),
      answers: report.answered
        .filter((one) => one.fact.customer === customer)
        .map(({ actor, fact }) => ({ at: fact.answeredAt, answer: fact.answer, by: actor })),
    }));
  }
}

/** A part as it is shown, with its item and unit. */
export function partView(part: AffectedPart, lots: ReadonlyMap<string, LotOf>): ReportPartView {
  const { item, unit } = lots.get(part.lot)!;
  return {
    lot: part.lot,
    item,
    unit,
    pieces: part.spans === null ? null : formatSpans(part.spans),
    quantity: formatQuantity(part.spans === null ? (part.quantityMicro ?? 0) : countPieces(part.spans) * MICRO),
  };
}

async function lotsOf(from: EntityManager, report: Report): Promise<Map<string, LotOf>> {
  const codes = [...report.affected, ...report.judged.map((one) => one.fact.part)].map((part) => part.lot);
  const rows = await selectIn<LotOf & { code: string }>(from, 'SELECT "code", "item", "unit" FROM "lot" WHERE "code" IN (:list)', [
    ...new Set(codes),
  ]);
  return new Map(rows.map((row) => [row.code, row]));
}

interface LineRow {
  code: string;
  state: ReportLineView['state'];
  severity: ReportLineView['severity'];
  source: ReportLineView['source'];
  source_code: string | null;
  requirement: string;
  raised_by: string;
  raised_at: string;
  raised_seq: number;
  state_at: string;
}

const GRAVITY = { critical: 0, major: 1, minor: 2 } as const;
const ENDED = new Set(['closed', 'withdrawn']);

/** Reports, open ones first: the graver, then the older; at most 1,000. */
export async function reportLines(from: EntityManager, query: ReportQueryDto, only?: string): Promise<ReportLineView[]> {
  const wanted: (readonly [string, Value])[] = [];
  if (only !== undefined) wanted.push(['r."code" = ?', only]);
  if (query.state !== undefined) wanted.push(['r."state" = ?', query.state]);
  if (query.severity !== undefined) wanted.push(['r."severity" = ?', query.severity]);
  if (query.lot !== undefined)
    wanted.push(['EXISTS (SELECT 1 FROM "report_part" p WHERE p."report" = r."code" AND p."lot" = ?)', query.lot]);
  const where = wanted.length === 0 ? '' : `WHERE ${wanted.map(([sql]) => sql).join(' AND ')}`;
  const rows = await queryRows<LineRow>(
    from,
    `SELECT r.* FROM "report" r ${where} ORDER BY r."raised_seq" DESC LIMIT 1000`,
    wanted.map(([, value]) => value),
  );
  const parts = await selectIn<{ report: string; lot: string }>(
    from,
    'SELECT DISTINCT "report", "lot" FROM "report_part" WHERE "report" IN (:list)',
    rows.map((row) => row.code),
  );
  return rows
    .map((row) => lineView(row, parts))
    .toSorted(
      (a, b) =>
        Number(ENDED.has(a.state)) - Number(ENDED.has(b.state)) || GRAVITY[a.severity] - GRAVITY[b.severity] || a.raisedSeq - b.raisedSeq,
    );
}

const lineView = (row: LineRow, parts: readonly { readonly report: string; readonly lot: string }[]): ReportLineView => ({
  report: row.code,
  state: row.state,
  severity: row.severity,
  source: row.source,
  sourceCode: row.source_code,
  requirement: row.requirement,
  lots: parts
    .filter((part) => part.report === row.code)
    .map((part) => part.lot)
    .toSorted(),
  raisedBy: row.raised_by,
  raisedAt: row.raised_at,
  raisedSeq: row.raised_seq,
  stateAt: row.state_at,
});
