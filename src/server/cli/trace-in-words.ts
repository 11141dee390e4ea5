import type { TraceAnswer, TracedLot, WireSpan } from '../../../shared/api/trace.js';
import { formatSpans } from '../../../shared/spans.js';

/** Columns of text, each as wide as its widest cell; the last one is not padded. */
export function columns(rows: readonly (readonly string[])[], right: readonly number[] = []): string[] {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows.map((row) =>
    row
      .map((cell, column) => (right.includes(column) ? cell.padStart(widths[column]!) : cell.padEnd(widths[column]!)))
      .join('  ')
      .trimEnd(),
  );
}

const spansOf = (spans: readonly WireSpan[] | null): string => (spans === null ? 'whole lot' : formatSpans(spans));

const plural = (n: number, one: string, many = `${one}s`): string => `${n.toLocaleString('en')} ${n === 1 ? one : many}`;

const shareOf = (lot: TracedLot): string => (lot.share === null ? '-' : `${(lot.share * 100).toPrecision(3)} %`);

/** A trace for a person at a terminal: totals first, then lots, then who has what. */
export function traceInWords(trace: TraceAnswer): string {
  const origin = trace.origin.map(({ lot, spans }) => (spans === null ? lot : `${lot} pieces ${formatSpans(spans)}`)).join(', ');
  const { totals } = trace;
  const lines = [
    `${trace.direction} from ${origin}, as known at entry ${trace.asKnownAt.seq}${trace.asKnownAt.at ? ` (${trace.asKnownAt.at})` : ''}`,
    `${plural(totals.lots, 'lot')}, ${plural(totals.pieces, 'piece')}, ${plural(totals.dispatchedPieces, 'piece')} with ${plural(totals.consignees, 'customer')}`,
    '',
  ];
  if (trace.lots.length > 0) {
    const rows = trace.lots.map((lot) => [
      lot.lot,
      lot.item,
      lot.class,
      `${lot.affectedQuantity} ${lot.unit}`,
      shareOf(lot),
      String(lot.depth),
      spansOf(lot.spans),
    ]);
    lines.push(...columns([['lot', 'item', 'class', 'affected', 'share', 'depth', 'pieces'], ...rows], [3, 4, 5]), '');
  }
  for (const consignee of trace.consignees) {
    lines.push(`${consignee.customer}: ${plural(consignee.affectedPieces, 'piece')}`);
    lines.push(
      ...columns(
        consignee.shipments.map((s) => ['', s.shipment, s.at.slice(0, 10), s.lot, s.spans === null ? s.quantity : spansOf(s.spans)]),
      ),
    );
  }
  for (const unit of trace.wasFitted) {
    lines.push(
      `${unit.serial ?? `${unit.lot} piece ${unit.piece}`} was fitted with ${unit.part} until ${unit.at.slice(0, 10)}, when ${unit.replacedBy} went in: ${unit.reason}`,
    );
  }
  for (const run of trace.inProcess) {
    lines.push(
      `still in process: ${run.kind} run ${run.run}${run.place === null ? '' : ` at ${run.place}`} took ${run.took.map((part) => part.lot).join(', ')}`,
    );
  }
  if (trace.conservative) {
    lines.push(
      '',
      `whole lots instead of recorded pieces: ${plural(trace.conservative.totals.pieces, 'piece')}, ${plural(trace.conservative.morePieces, 'piece')} more`,
    );
  }
  if (trace.whereabouts) {
    const rows = trace.whereabouts.map((part) => [part.lot, part.fate, part.at, part.quantity, spansOf(part.spans)]);
    lines.push('', ...columns([['lot', 'where', 'at', 'quantity', 'pieces'], ...rows], [3]));
  }
  for (const part of trace.leftOut ?? []) lines.push(`left out below the share cut-off: ${part.lot} ${spansOf(part.spans)}`);
  return lines.join('\n').trimEnd();
}
