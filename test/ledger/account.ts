import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { formatQuantity } from '../../shared/quantity.js';
import { formatSpans, spanSet } from '../../shared/spans.js';
import { safeInteger } from '../../src/server/platform/database/columns.js';
import { Reader } from '../../src/server/platform/database/reader.js';
import { queryRows } from '../../src/server/platform/database/rows.js';
import { TraceService } from '../../src/server/trace/trace.service.js';

interface PartRow {
  readonly code: string;
  readonly item: string;
  readonly unit: string;
  readonly fate: string;
  readonly at: string;
  readonly quantity: unknown;
  readonly spans: string | null;
}

/**
 * What a ledger comes to, as text a foreman can read: where every part of every lot is and in what status, and from each lot what it went
 * into and what went into it, with who received it.
 */
export async function accountOf(app: NestFastifyApplication): Promise<string> {
  const tx = app.get(Reader).manager;
  const parts = await queryRows<PartRow>(
    tx,
    `SELECT l."code", l."item", l."unit", w."fate", w."at", w."quantity", w."spans" FROM "whereabout" w JOIN "lot" l ON l."id" = w."lot_id"
     WHERE w."until_seq" IS NULL ORDER BY l."code", w."fate", w."at"`,
  );
  const statuses = await queryRows<{ code: string; status: string; spans: string | null }>(
    tx,
    `SELECT l."code", s."status", s."spans" FROM "lot_status" s JOIN "lot" l ON l."id" = s."lot_id"
     WHERE s."until_seq" IS NULL ORDER BY l."code", s."status"`,
  );
  const lines: string[] = [];
  for (const lot of new Set(parts.map((part) => part.code))) {
    const own = parts.filter((part) => part.code === lot);
    lines.push(`${lot} (${own[0]!.item})`);
    for (const part of own)
      lines.push(`  ${part.fate} ${part.at}: ${part.spans ?? `${formatQuantity(safeInteger(part.quantity))} ${part.unit}`}`);
    for (const status of statuses.filter((one) => one.code === lot)) lines.push(`  ${status.status}: ${status.spans ?? 'all'}`);
    for (const direction of ['forward', 'backward'] as const) lines.push(...(await traced(app, lot, direction)));
  }
  return `${lines.join('\n')}\n`;
}

async function traced(app: NestFastifyApplication, lot: string, direction: 'forward' | 'backward'): Promise<string[]> {
  const answer = await app.get(TraceService).trace({ lot, direction });
  const reached = answer.lots.map(
    (one) => `${one.lot} ${one.spans === null ? 'all' : formatSpans(spanSet(one.spans as [number, number][]))}`,
  );
  const consignees = (answer.consignees ?? []).map(
    (one) => `${one.customer} ${one.shipments.map((shipment) => shipment.shipment).join(' ')}`,
  );
  return [
    ...(reached.length === 0 ? [] : [`  ${direction === 'forward' ? 'went into' : 'made of'}: ${reached.join('; ')}`]),
    ...(consignees.length === 0 || direction === 'backward' ? [] : [`  received by: ${consignees.join('; ')}`]),
  ];
}
