import { byCodeUnits } from '../../../shared/code-units.js';
import { sumMicro } from '../../../shared/quantity.js';
import { countPieces } from '../../../shared/spans.js';
import type { UnitAccount } from './recall-report.reconcile.js';
import type { Consignee, ConsigneeLine, RecallReport } from './recall-report.types.js';
import type { Block, Row } from './sheet.model.js';
import {
  writtenAmount,
  writtenCount,
  writtenDate,
  writtenInstant,
  writtenPieces,
  writtenQuantity,
  writtenSpans,
} from '../../../shared/written.js';

type Sums = ReadonlyMap<string, number>;

/** Who received affected goods: each consignee with contact, then every shipment with lot and pieces. */
export function recallConsignees(report: RecallReport, accounts: readonly UnitAccount[]): Block[] {
  const { consignees } = report;
  const lines = consignees.flatMap((consignee) => consignee.lines);
  const shipments = new Set(lines.map(({ shipment }) => shipment)).size;
  const sent = sums(lines, (line) => line);
  const out = sums(lines, outPart);
  const sorted = consignees.toSorted((a, b) => (a.code < b.code ? -1 : a.code > b.code ? 1 : 0));
  return [
    {
      kind: 'heading',
      level: 2,
      text: 'Consignees',
      note:
        `${counted(consignees.length, 'consignee')}, ${counted(shipments, 'shipment')}, ${counted(lines.length, 'line')}, ` +
        `as known at ${writtenInstant(report.asKnownAt.at)}.`,
    },
    ...mismatch(out, accounts),
    {
      kind: 'table',
      summary: 'Consignees with contact, and what each received in which shipment',
      columns: [
        { head: 'Shipment', share: 20 },
        { head: 'Sent', share: 15 },
        { head: 'Lot', share: 20 },
        { head: 'Piece numbers', share: 32 },
        { head: 'Amount sent', share: 15, align: 'right' },
        { head: 'Not back yet', share: 15, align: 'right' },
      ],
      rows: consignees.length === 0 ? [] : [...sorted.flatMap(consigneeRows), ...totalRows(sent, out)],
      empty: 'Nothing dispatched: no affected piece or quantity has been recorded as leaving the plant.',
    },
  ];
}

function outPart(line: ConsigneeLine): { spans: ConsigneeLine['spans']; quantityMicro: number; unit: string } {
  return { ...line.out, unit: line.unit };
}

function counted(count: number, noun: string): string {
  return `${writtenCount(count)} ${noun}${count === 1 ? '' : 's'}`;
}

function consigneeRows(consignee: Consignee): Row[] {
  const lines = consignee.lines.toSorted(
    (a, b) => byCodeUnits(a.shippedOn, b.shippedOn) || byCodeUnits(a.shipment, b.shipment) || byCodeUnits(a.lot, b.lot),
  );
  const name = `${consignee.code}  ${consignee.name}`;
  return [
    {
      kind: 'group',
      title: [
        { text: name, look: 'code' },
        { text: consignee.contact ?? 'No contact is recorded for this consignee.', look: consignee.contact === null ? 'accent' : 'quiet' },
      ],
      amount: written(sums(lines, (line) => line)),
      again: `continued: ${name}`,
    },
    ...lines.map((line): Row => ({
      kind: 'row',
      cells: [
        line.shipment,
        writtenDate(line.shippedOn),
        [{ text: line.lot, look: 'code' }],
        line.spans === null ? [{ text: 'not numbered', look: 'quiet' }] : writtenSpans(line.spans),
        writtenAmount(line),
        writtenAmount(outPart(line)),
      ],
    })),
  ];
}

function sums<L extends { unit: string }>(
  lines: readonly L[],
  part: (line: L) => { spans: ConsigneeLine['spans']; quantityMicro: number; unit: string },
): Sums {
  const totals = new Map<string, number>();
  for (const line of lines) {
    const { spans, quantityMicro, unit } = part(line);
    const key = spans === null ? unit : 'pieces';
    totals.set(key, sumMicro([totals.get(key) ?? 0, spans === null ? quantityMicro : countPieces(spans)]));
  }
  return totals;
}

function writtenSum(unit: string, sum: number): string {
  return unit === 'pieces' ? writtenPieces(sum) : writtenQuantity(sum, unit);
}

function written(totals: Sums): string {
  return [...totals].map(([unit, sum]) => writtenSum(unit, sum)).join(', ');
}

function totalRows(sent: Sums, out: Sums): Row[] {
  return [...sent].map(([unit, sum]): Row => ({
    kind: 'total',
    cells: ['Total', '', '', '', writtenSum(unit, sum), writtenSum(unit, out.get(unit) ?? 0)],
  }));
}

/** The consignee list and the reconciliation are read from different rows; should they disagree, the reader must know. */
function mismatch(out: Sums, accounts: readonly UnitAccount[]): Block[] {
  const units = new Set([...out.keys(), ...accounts.map(({ unit }) => unit)]);
  const lines = [...units].flatMap((unit) => {
    const listed = out.get(unit) ?? 0;
    const dispatched = accounts.find((account) => account.unit === unit)?.byFate.get('dispatched') ?? 0;
    if (listed === dispatched) return [];
    return [`Listed as not back yet: ${writtenSum(unit, listed)}. Dispatched by the reconciliation: ${writtenSum(unit, dispatched)}.`];
  });
  if (lines.length === 0) return [];
  return [{ kind: 'caution', title: 'This list and the reconciliation do not agree', lines }];
}
