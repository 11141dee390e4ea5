import type { ProgressNotice, ProgressStrategy, RecallProgress } from './recall-progress.types.js';
import type { Block, Row } from './sheet.model.js';
import { writtenCount, writtenDate, writtenInstant } from '../../../shared/written.js';

const DEPTHS: Readonly<Record<string, string>> = {
  consumer: 'down to consumers and users',
  retail: 'down to retailers',
  wholesale: 'down to wholesalers',
};

/** What every section of the progress says below its heading: it is not of the entry that the scope is of. */
export const asKnown = ({ asKnownAt }: RecallProgress): string =>
  `As known at ledger entry ${writtenCount(asKnownAt.seq)}, ${writtenInstant(asKnownAt.at)}.`;

/** Who may come to harm and how, what that makes it, and how it came to be seen so. */
export function hazardAndClass(progress: RecallProgress): Block[] {
  const now = progress.strategies.at(-1);
  const heading: Block = { kind: 'heading', level: 2, text: 'Hazard and class', note: asKnown(progress) };
  if (!now) return [heading, { kind: 'caution', title: 'Not evaluated yet', lines: ['No hazard evaluation and no class are recorded.'] }];
  const { evaluation } = now;
  return [
    heading,
    {
      kind: 'facts',
      facts: [
        { label: 'Class', value: `${now.class}: ${now.classReason}` },
        { label: 'Injuries so far', value: evaluation.injuries },
        { label: 'What makes harm likelier', value: evaluation.conditions },
        { label: 'Who is exposed', value: evaluation.exposed },
        { label: 'How serious', value: evaluation.seriousness },
        { label: 'How likely', value: evaluation.likelihood },
        { label: 'Consequences', value: evaluation.consequences },
        ...(progress.reports.length === 0 ? [] : [{ label: 'Nonconformance reports', value: progress.reports.join(', ') }]),
      ],
    },
    ...(progress.strategies.length < 2 ? [] : classHistory(progress.strategies)),
  ];
}

function classHistory(strategies: readonly ProgressStrategy[]): Block[] {
  return [
    { kind: 'heading', level: 3, text: 'How the class came to be' },
    {
      kind: 'table',
      summary: 'Classes with when, by whom and why they were set',
      columns: [
        { head: 'Class', share: 10 },
        { head: 'Set', share: 29 },
        { head: 'By', share: 23 },
        { head: 'Why', share: 62 },
      ],
      rows: strategies.map((one): Row => ({
        kind: 'row',
        cells: [one.class, writtenInstant(one.at), one.by, [{ text: one.classReason }, { text: one.reason, look: 'quiet' }]],
      })),
      empty: 'No class is set.',
    },
  ];
}

/** How far down the chain, with what warning and what checks. */
export function strategy(progress: RecallProgress): Block[] {
  const now = progress.strategies.at(-1);
  if (!now) return [];
  const { publicWarning } = now;
  const { effectiveness, notified, completion } = progress;
  return [
    { kind: 'heading', level: 2, text: 'Strategy' },
    {
      kind: 'facts',
      facts: [
        { label: 'Depth', value: DEPTHS[now.depth] ?? now.depth },
        { label: 'Public warning', value: `${publicWarning.needed ? 'needed' : 'not needed'}: ${publicWarning.reason}` },
        {
          label: 'Effectiveness checks',
          value: `level ${now.level}: ${writtenCount(effectiveness.needed)} of ${writtenCount(notified.consignees)} consignees`,
        },
        {
          label: 'Complete',
          value: completion.estimatedOn === null ? 'not estimated' : `expected by ${writtenDate(completion.estimatedOn)}`,
        },
        { label: 'Status reports', value: reportsEvery(now.reportEveryDays, completion.nextReportOn) },
        { label: 'Set', value: `${writtenInstant(now.at)}, by ${now.by}: ${now.reason}` },
        { label: 'Signed as meaning', value: now.meaning },
      ],
    },
  ];
}

const reportsEvery = (days: number, next: string | null): string =>
  `every ${writtenCount(days)} days${next === null ? '' : `, the next on ${writtenDate(next)}`}`;

/** Who was told when, and what they answered; then the words that went out. */
export function noticesAndAnswers(progress: RecallProgress): Block[] {
  const { notified, replied, consignees, drill } = progress;
  const note = `${writtenCount(notified.notified)} of ${writtenCount(notified.consignees)} consignees notified, ${writtenCount(replied.replied)} replied.`;
  return [
    { kind: 'heading', level: 2, text: 'Notices and answers', note },
    {
      kind: 'table',
      summary: 'Consignees with their notices and answers',
      columns: [
        { head: 'Consignee', share: 28 },
        { head: 'Notified', share: 30 },
        { head: 'Answered', share: 24 },
        { head: 'Had on hand', share: 24 },
        { head: 'Instructions', share: 26 },
      ],
      rows: drill ? [] : consignees.map((one): Row => consigneeRow(one, progress)),
      empty: drill ? 'A drill sends no notice to anyone.' : 'No consignee: nothing affected was sent out.',
    },
    ...(notified.publicNotices.length === 0
      ? []
      : [{ kind: 'list' as const, items: notified.publicNotices.map((notice) => `Public warning: ${sentHow(notice)}`) }]),
    ...texts([...notified.publicNotices, ...consignees.flatMap((one) => [...one.notices])]),
  ];
}

const sentHow = ({ at, channel, version }: ProgressNotice): string => `${writtenInstant(at)}, ${channel}, version ${version}`;

function consigneeRow(one: RecallProgress['consignees'][number], { silent }: RecallProgress): Row {
  const next = silent.find(({ customer }) => customer === one.customer);
  const { answer } = one;
  return {
    kind: 'row',
    cells: [
      [
        { text: one.customer, look: 'code' },
        { text: one.name, look: 'quiet' },
      ],
      one.notices.length === 0 ? [{ text: 'not notified', look: 'accent' }] : one.notices.map((notice) => ({ text: sentHow(notice) })),
      answer === null
        ? next
          ? [
              { text: 'silent', look: 'accent' },
              { text: `${next.due ? 'to be asked since' : 'next contact'} ${writtenDate(next.nextContactOn)}`, look: 'quiet' },
            ]
          : [{ text: 'not asked', look: 'quiet' }]
        : [{ text: writtenDate(answer.answeredOn) }, { text: `signed ${answer.signedBy}`, look: 'quiet' }],
      answer === null
        ? ''
        : answer.onHand.length === 0
          ? 'nothing'
          : answer.onHand.map((part) => ({ text: `${part.quantity} of ${part.lot}` })),
      answer === null ? '' : followed(answer),
    ],
  };
}

function followed({
  stopped,
  acted,
  passedOn,
}: NonNullable<RecallProgress['consignees'][number]['answer']>): { text: string; look?: 'accent' }[] {
  const said = (done: boolean, yes: string, no: string): { text: string; look?: 'accent' } =>
    done ? { text: yes } : { text: no, look: 'accent' };
  return [
    said(stopped, 'stopped', 'not stopped'),
    said(acted, 'did as asked', 'did not do as asked'),
    ...(passedOn === null ? [] : [said(passedOn, 'told its customers', 'did not tell its customers')]),
  ];
}

/** Each text that went out, once, in its words. */
function texts(notices: readonly ProgressNotice[]): Block[] {
  const byVersion = new Map(notices.map(({ version, content }) => [`${version}\u0000${content}`, { version, content }]));
  return [...byVersion.values()]
    .toSorted((a, b) => a.version - b.version)
    .flatMap(({ version, content }): Block[] => [
      { kind: 'heading', level: 3, text: `Notice, version ${version}` },
      { kind: 'facts', facts: content.split('\n\n').map(statement) },
    ]);
}

/** A statement of a notice with what it is called; the first of them is its subject. */
function statement(text: string, i: number): { label: string; value: string } {
  const colon = text.indexOf(': ');
  return i === 0 || colon < 0 ? { label: 'Subject', value: text } : { label: text.slice(0, colon), value: text.slice(colon + 2) };
}
