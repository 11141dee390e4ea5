import { personText, signatureCells, signatureColumns } from './nonconformance.words.js';
import type { Effectiveness, NonconformanceReport } from './nonconformance.types.js';
import type { Block, Row } from './sheet.model.js';
import { capital, writtenCount, writtenDate, writtenInstant, writtenMoney } from '../../../shared/written.js';

/** The cause, what is done about it, whether it worked, and what it all cost. */
export function learned(report: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Cause and actions' },
    ...cause(report),
    { kind: 'heading', level: 3, text: 'Actions' },
    actions(report),
    ...effectiveness(report.effectiveness),
    ...costs(report),
  ];
}

function cause({ cause: found }: NonconformanceReport): Block[] {
  if (found === null) return [{ kind: 'paragraph', text: 'The cause is not analysed yet.' }];
  return [
    { kind: 'list', items: found.whys.map((why, i) => `Why ${i + 1}: ${why}`) },
    {
      kind: 'facts',
      facts: [
        { label: 'Kind of cause', value: found.categories.join(', ') },
        { label: 'Conclusion', value: found.conclusion },
        { label: 'Analysed by', value: `${personText(found.by)}, ${writtenInstant(found.at)}` },
      ],
    },
  ];
}

/** @see docs/rules/nonconformance.md NR-41 */
const actions = ({ actions: planned }: NonconformanceReport): Block => ({
  kind: 'table',
  summary: 'Corrections, corrective and preventive actions',
  columns: [
    { head: 'No.', share: 7 },
    { head: 'Kind', share: 16 },
    { head: 'What', share: 36 },
    { head: 'Owner and due', share: 26 },
    { head: 'Done', share: 30 },
  ],
  rows: planned.map((one) => ({
    kind: 'row',
    cells: [
      writtenCount(one.action),
      capital(one.kind),
      one.what,
      [{ text: personText(one.owner) }, { text: `due ${writtenDate(one.dueOn)}`, look: 'quiet' }],
      one.done === null ? 'not yet' : [{ text: one.done.evidence }, { text: writtenInstant(one.done.at), look: 'quiet' }],
    ],
  })),
  empty: 'No action is planned.',
});

function effectiveness(check: Effectiveness | null): Block[] {
  const heading = { kind: 'heading', level: 3, text: 'Did it work?' } as const;
  if (check === null) return [heading, { kind: 'paragraph', text: 'No check is planned.' }];
  const { checked } = check;
  return [
    heading,
    {
      kind: 'facts',
      facts: [
        { label: 'Criterion', value: check.criterion },
        { label: 'To be checked', value: writtenDate(check.checkOn) },
        ...(checked === null
          ? [{ label: 'Checked', value: 'not yet' }]
          : [
              { label: 'Outcome', value: checked.effective ? 'Effective' : [{ text: 'Not effective', look: 'accent' as const }] },
              { label: 'Evidence', value: checked.evidence },
              { label: 'Harm done by it', value: checked.harm },
            ]),
      ],
    },
    ...(checked === null
      ? []
      : [
          {
            kind: 'table' as const,
            summary: 'Who signed the check, when, and what the signature means',
            columns: signatureColumns,
            rows: [{ kind: 'row' as const, cells: signatureCells(checked.signature) }],
            empty: '',
          },
        ]),
  ];
}

function costs({ costs: recorded, currency }: NonconformanceReport): Block[] {
  const total = recorded.reduce((sum, one) => sum + one.minor, 0);
  const row = (cells: readonly string[], kind: 'row' | 'total' = 'row'): Row => ({ kind, cells });
  return [
    { kind: 'heading', level: 3, text: 'What it cost' },
    {
      kind: 'table',
      summary: 'Costs by what they are of, in the currency of the plant',
      columns: [
        { head: 'Of', share: 30 },
        { head: 'Kind', share: 20 },
        { head: 'Note', share: 45 },
        { head: `Amount, ${currency}`, share: 26, align: 'right' },
      ],
      rows:
        recorded.length === 0
          ? []
          : [
              ...recorded.map((one) => row([one.of, one.kind, one.note ?? '', writtenMoney(one.minor, currency)])),
              row(['In all', '', '', writtenMoney(total, currency)], 'total'),
            ],
      empty: 'No cost is recorded.',
    },
  ];
}
