import { signatureCells, signatureColumns } from './nonconformance.words.js';
import type { Answered, NonconformanceReport } from './nonconformance.types.js';
import type { Block } from './sheet.model.js';
import { writtenCount, writtenInstant } from '../../../shared/written.js';

/** What stopped it from spreading, who was told, and what the review asked for. */
export function containment(report: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Containment and review' },
    {
      kind: 'table',
      summary: 'Holds of this report',
      columns: [
        { head: 'Hold', share: 16 },
        { head: 'What is held', share: 34 },
        { head: 'Placed', share: 27 },
        { head: 'Lifted', share: 36 },
      ],
      rows: report.holds.map((one) => ({
        kind: 'row',
        cells: [
          [{ text: one.hold, look: 'code' }],
          [
            { text: one.lot, look: 'code' },
            { text: one.what, look: 'quiet' },
          ],
          [{ text: writtenInstant(one.placedAt) }, { text: `entry ${writtenCount(one.placedSeq)}`, look: 'quiet' }],
          one.lifted === null
            ? [{ text: 'stands', look: 'accent' }]
            : [{ text: one.lifted.reason }, { text: `entry ${writtenCount(one.lifted.seq)}`, look: 'quiet' }],
        ],
      })),
      empty: 'Nothing is held for this report.',
    },
    ...consignees(report),
    ...review(report),
    ...signatures(report),
  ];
}

function consignees({ consignees: list }: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 3, text: 'Who has affected goods, and was told' },
    {
      kind: 'table',
      summary: 'Customers with affected goods, what they were told and what they answered',
      columns: [
        { head: 'Customer', share: 32 },
        { head: 'Pieces', share: 12, align: 'right' },
        { head: 'Told', share: 36 },
        { head: 'Answered', share: 33 },
      ],
      rows: list.map((one) => ({
        kind: 'row',
        cells: [
          [{ text: one.name === null ? one.customer : `${one.customer}, ${one.name}` }, { text: one.shipments.join(', '), look: 'quiet' }],
          writtenCount(one.affectedPieces),
          one.told.length === 0
            ? [{ text: 'not told yet', look: 'accent' }]
            : one.told.flatMap(({ at, channel, what, by }) => [
                { text: what },
                { text: `${channel}, ${writtenInstant(at)}, by ${by}`, look: 'quiet' as const },
              ]),
          one.answers.length === 0
            ? 'no answer'
            : one.answers.flatMap(({ at, answer }) => [{ text: answer }, { text: writtenInstant(at), look: 'quiet' as const }]),
        ],
      })),
      empty: 'Nothing affected was with a customer.',
    },
  ];
}

const answeredText = ({ needed, reason }: Answered): string => `${needed ? 'Yes' : 'No'}: ${reason}`;

function review({ review: asked }: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 3, text: 'Review' },
    asked === null
      ? { kind: 'paragraph', text: 'Not reviewed yet.' }
      : {
          kind: 'facts',
          facts: [
            { label: 'Cause investigated', value: answeredText(asked.investigate) },
            { label: 'Party responsible told', value: answeredText(asked.inform) },
          ],
        },
  ];
}

/** Signatures on the report itself. */
function signatures({ signatures: signed }: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 3, text: 'Signatures on the report' },
    {
      kind: 'table',
      summary: 'Who signed the report, when, and what the signature means',
      columns: [{ head: 'What', share: 19 }, ...signatureColumns],
      rows: signed.map(({ on, signature }) => ({ kind: 'row', cells: [on, ...signatureCells(signature)] })),
      empty: 'Nobody has signed it yet.',
    },
  ];
}
