import { formatSpans, type SpanSet } from '../../../../shared/spans.js';
import { csvTable } from '../../platform/csv.js';
import type { RecallView } from './recall.dto.js';

const COLUMNS = [
  'recall',
  'drill',
  'customer',
  'name',
  'contact',
  'shipment',
  'shipped_on',
  'lot',
  'pieces',
  'quantity',
  'unit',
  'out',
  'out_now',
];

/** The direct accounts with lots and ship dates, one row a line (RFC 4180), to be sorted in a spreadsheet. */
export const consigneesCsv = ({ recall, drill, consignees }: RecallView): string =>
  csvTable(
    COLUMNS,
    consignees.flatMap(({ customer, name, contact, lines }) =>
      lines.map((line) => [
        recall,
        drill ? 'DRILL' : '',
        customer,
        name,
        contact ?? '',
        line.shipment,
        line.shippedOn,
        line.lot,
        line.spans === null ? '' : formatSpans(line.spans as unknown as SpanSet),
        line.quantity,
        line.unit,
        line.out.quantity,
        line.outNow.quantity,
      ]),
    ),
  );
