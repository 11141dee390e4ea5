import { csvTable } from '../../platform/csv.js';
import type { RecallProgressView } from './status.dto.js';

const COLUMNS = [
  'recall',
  'drill',
  'as_known_at',
  'customer',
  'name',
  'notified_at',
  'channel',
  'notice_version',
  'answered_on',
  'signed_by',
  'next_contact_on',
  'lot',
  'unit',
  'sent',
  'on_hand_there',
  'came_back',
  'destroyed',
  'corrected',
  'sold_on',
  'outstanding',
  'contradicted',
  'checked',
  'check_followed',
];

/** The status, one row for each consignee and lot (RFC 4180); the first notice counts as when it was notified. */
export const statusCsv = ({ recall, drill, asKnownAt, consignees, silent }: RecallProgressView): string =>
  csvTable(
    COLUMNS,
    consignees.flatMap(({ customer, name, notices, answer, lots, check }) =>
      lots.map((lot) => [
        recall,
        drill ? 'DRILL' : '',
        asKnownAt.seq,
        customer,
        name,
        notices[0]?.at ?? '',
        notices[0]?.channel ?? '',
        notices.at(-1)?.version ?? '',
        answer?.answeredOn ?? '',
        answer?.signedBy ?? '',
        silent.find((one) => one.customer === customer)?.nextContactOn ?? '',
        lot.lot,
        lot.unit,
        lot.sent.quantity,
        answer?.onHand.find((part) => part.lot === lot.lot)?.quantity ?? '',
        lot.cameBack.quantity,
        lot.destroyed.quantity,
        lot.corrected.quantity,
        lot.soldOn.quantity,
        lot.outstanding.quantity,
        lot.contradicted.quantity,
        check === null ? '' : check.method,
        check === null ? '' : check.followed ? 'yes' : 'no',
      ]),
    ),
  );
