import { code } from './recall-report.scope.js';
import type { RecallReport, TimelineEntry } from './recall-report.types.js';
import type { Block } from './sheet.model.js';
import { writtenCount, writtenInstant, writtenPieces, writtenQuantity, writtenSpans } from '../../../shared/written.js';
import { countPieces } from '../../../shared/spans.js';

/** Runs that hold affected material and have not yielded all they will: no list can name what is still to come. */
export function runsInProcess({ inProcess }: RecallReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Runs in process with affected material' },
    ...(inProcess.length === 0
      ? []
      : [
          {
            kind: 'caution' as const,
            title: 'What these runs will yield is in no list yet',
            lines: ['Stop or segregate them first. A report asked for after they have yielded will name the lots.'],
          },
        ]),
    {
      kind: 'table',
      summary: 'Unfinished runs that took affected material',
      columns: [
        { head: 'Run', share: 22 },
        { head: 'Vessel or line', share: 20 },
        { head: 'Started', share: 24 },
        { head: 'Affected material taken', share: 50 },
      ],
      rows: inProcess.map((run) => ({
        kind: 'row',
        cells: [
          code(run.run, run.kind),
          run.place,
          writtenInstant(run.startedAt),
          run.took.map((part) => ({
            text:
              part.spans === null
                ? `${writtenQuantity(part.quantityMicro, part.unit)} of ${part.lot}`
                : `${writtenPieces(countPieces(part.spans))} of ${part.lot}: ${writtenSpans(part.spans)}`,
          })),
        ],
      })),
      empty: 'None: no unfinished run has taken affected material.',
    },
  ];
}

/** What happened, in the order of the ledger. */
export function timeline({ timeline: entries }: RecallReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Timeline' },
    {
      kind: 'table',
      summary: 'What happened, by ledger entry',
      columns: [
        { head: 'Entry', share: 9, align: 'right' },
        { head: 'When', share: 29 },
        { head: 'Who', share: 23 },
        { head: 'What', share: 62 },
      ],
      rows: inOrder(entries).map(({ seq, at, who, what }) => ({ kind: 'row', cells: [writtenCount(seq), writtenInstant(at), who, what] })),
      empty: 'Nothing is recorded.',
    },
  ];
}

/** Who decided what, and what their signature meant. */
export function decisions({ decisions: signed }: RecallReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Decisions and signatures' },
    {
      kind: 'table',
      summary: 'Signed decisions with the meaning of each signature',
      columns: [
        { head: 'Entry', share: 9, align: 'right' },
        { head: 'When', share: 29 },
        { head: 'Who signed', share: 23 },
        { head: 'Decision, and what the signature means', share: 62 },
      ],
      rows: inOrder(signed).map(({ seq, at, who, what, meaning }) => ({
        kind: 'row',
        cells: [writtenCount(seq), writtenInstant(at), who, [{ text: what }, { text: `Signed as meaning: ${meaning}`, look: 'quiet' }]],
      })),
      empty: 'No decision has been signed yet.',
    },
  ];
}

function inOrder<T extends TimelineEntry>(entries: readonly T[]): T[] {
  return entries.toSorted((a, b) => a.seq - b.seq);
}
