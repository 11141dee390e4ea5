import { stringify } from 'csv-stringify/sync';
import { formatSpans, type SpanSet } from '../../../../shared/spans.js';
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

/** A text that a spreadsheet would take for a formula is led in by an apostrophe: names and codes are typed by people. */
const guarded = (text: string): string => (/^[=+\-@\t\r]/.test(text) ? `'${text}` : text);

/** The direct accounts with lots and ship dates, one row a line (RFC 4180), to be sorted in a spreadsheet. */
export const consigneesCsv = ({ recall, drill, consignees }: RecallView): string =>
  stringify(
    consignees.flatMap(({ customer, name, contact, lines }) =>
      lines.map((line) =>
        [
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
        ].map(guarded),
      ),
    ),
    { header: true, columns: COLUMNS, record_delimiter: 'windows' },
  );
