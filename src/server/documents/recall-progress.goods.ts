import { MICRO, parseQuantity } from '../../../shared/quantity.js';
import { asKnown } from './recall-progress.strategy.js';
import type { ProgressGoods, ProgressLotAccount, ProgressTime, RecallProgress, WrittenPart } from './recall-progress.types.js';
import type { Block, Row } from './sheet.model.js';
import { writtenCount, writtenDate, writtenInstant, writtenQuantity } from '../../../shared/written.js';

const amount = (quantity: string, unit: string): string =>
  unit === 'pieces' ? writtenCount(parseQuantity(quantity) / MICRO) : writtenQuantity(parseQuantity(quantity), unit);

/** What every consignee was sent and what became of it: it adds up, row by row. */
export function consigneeAccounts(progress: RecallProgress): Block[] {
  if (progress.drill) return [];
  const contradicted = progress.goods.filter((one) => parseQuantity(one.contradicted) !== 0);
  return [
    {
      kind: 'heading',
      level: 2,
      text: 'Accounts of consignees',
      note: `${asKnown(progress)} Scope version ${progress.version}. Sent is what came back, was destroyed, corrected or sold on, and what is outstanding.`,
    },
    ...(contradicted.length === 0
      ? []
      : [
          {
            kind: 'caution' as const,
            title: 'Stated, and not so',
            lines: contradicted.map(
              (one) =>
                `${amount(one.contradicted, one.unit)} ${one.unit === 'pieces' ? 'pieces ' : ''}are stated by consignees although they were not sent or came back. They count once.`,
            ),
          },
        ]),
    {
      kind: 'table',
      summary: 'What each consignee was sent of each lot, and what became of it',
      columns: [
        { head: 'Lot', share: 22 },
        ...['Sent', 'Came back', 'Destroyed', 'Corrected', 'Sold on', 'Outstanding'].map((head) => ({
          head,
          share: 17,
          align: 'right' as const,
        })),
      ],
      rows: progress.consignees.length === 0 ? [] : [...progress.consignees.flatMap(consigneeRows), ...progress.goods.map(totalRow)],
      empty: 'Nothing affected was sent out.',
    },
    ...progress.goods.map((one): Block => ({ kind: 'paragraph', text: shares(one) })),
  ];
}

const shares = ({ unit, accounted, recovered }: ProgressGoods): string =>
  `Of what was sent in ${unit}, ${accounted} % is accounted for; ${recovered} % came back, was destroyed or corrected.`;

function consigneeRows({ customer, name, lots }: RecallProgress['consignees'][number]): Row[] {
  return [
    { kind: 'group', title: [{ text: `${customer}  ${name}`, look: 'code' }], amount: '', again: `continued: ${customer}  ${name}` },
    ...lots.map(lotRow),
  ];
}

function lotRow(account: ProgressLotAccount): Row {
  const cell = ({ spans, quantity }: WrittenPart): string => amount(quantity, spans === null ? account.unit : 'pieces');
  const { sent, cameBack, destroyed, corrected, soldOn, outstanding } = account;
  return {
    kind: 'row',
    cells: [
      [{ text: account.lot, look: 'code' }],
      ...[sent, cameBack, destroyed, corrected, soldOn].map(cell),
      out(cell(outstanding), outstanding),
    ],
  };
}

const out = (text: string, { quantity }: WrittenPart): { text: string; look?: 'accent' }[] =>
  parseQuantity(quantity) === 0 ? [{ text }] : [{ text, look: 'accent' }];

function totalRow(goods: ProgressGoods): Row {
  const { unit } = goods;
  const cells = [goods.sent, goods.cameBack, goods.destroyed, goods.corrected, goods.soldOn, goods.outstanding].map((one) =>
    amount(one, unit),
  );
  return { kind: 'total', cells: [unit === 'pieces' ? 'Total pieces' : 'Total', ...cells] };
}

/** Whether consignees got the notice and acted on it. */
export function effectivenessChecks(progress: RecallProgress): Block[] {
  if (progress.drill) return [];
  const { level, needed, checked, followed } = progress.effectiveness;
  const asked = level === null ? 'No level is set.' : `Level ${level} asks for ${writtenCount(needed)}.`;
  return [
    {
      kind: 'heading',
      level: 2,
      text: 'Effectiveness checks',
      note: `${asked} ${writtenCount(checked)} done, ${writtenCount(followed)} found the notice followed.`,
    },
    {
      kind: 'table',
      summary: 'Effectiveness checks by consignee',
      columns: [
        { head: 'Consignee', share: 26 },
        { head: 'Asked', share: 40 },
        { head: 'Result', share: 24 },
        { head: 'Note', share: 40 },
      ],
      rows: progress.consignees.flatMap(({ customer, check }): Row[] =>
        check === null
          ? []
          : [
              {
                kind: 'row',
                cells: [
                  [{ text: customer, look: 'code' }],
                  [{ text: writtenInstant(check.at) }, { text: `${check.method}, by ${check.by}`, look: 'quiet' }],
                  check.followed
                    ? 'arrived, followed'
                    : [{ text: check.reached ? 'arrived, not followed' : 'did not arrive', look: 'accent' }],
                  check.note,
                ],
              },
            ],
      ),
      empty: 'No consignee has been asked.',
    },
  ];
}

/** How long it took. */
export function times({ times: measured, record }: RecallProgress): Block[] {
  const { openedAt, scope, firstNotice, reconciliation, closing, drill } = measured;
  return [
    { kind: 'heading', level: 2, text: 'Times' },
    {
      kind: 'facts',
      facts: [
        { label: 'Opened', value: writtenInstant(openedAt) },
        { label: 'Scope frozen', value: took(scope) },
        ...(drill === null
          ? [
              { label: 'First notice', value: firstNotice === null ? 'none yet' : `${took(firstNotice)}; this is the start of the recall` },
              { label: 'All accounted for', value: reconciliation === null ? 'not yet' : took(reconciliation) },
            ]
          : [
              {
                label: 'Clock of the drill',
                value: `${lasted(drill.seconds)}${drill.running ? ', running' : ''}; ${drill.withinTarget ? 'within' : 'over'} the ${lasted(drill.targetSeconds)} aimed at`,
              },
            ]),
        { label: 'Closed', value: closing === null ? 'not yet' : took(closing) },
        ...record.map(({ unit, share, over }) => ({
          label: `Accounted for, ${unit}`,
          value: over === '0' ? `${share} % of what was made` : `${share} %, and ${over} more than there were: an error in the record`,
        })),
      ],
    },
  ];
}

const took = ({ at, seconds }: ProgressTime): string =>
  seconds === 0 ? `${writtenInstant(at)}, at once` : `${writtenInstant(at)}, after ${lasted(seconds)}`;

/** A time people can grasp: days and hours, hours and minutes, or minutes. */
export function lasted(seconds: number): string {
  const minutes = Math.floor(seconds / 60);
  const [days, hours, rest] = [Math.floor(minutes / 1440), Math.floor(minutes / 60) % 24, minutes % 60];
  if (days > 0) return `${writtenCount(days)} d ${hours} h`;
  return hours > 0 ? `${hours} h ${rest} min` : `${rest} min`;
}

/** What was found wanting, and who sees to it. */
export function gaps({ gaps: found }: RecallProgress): Block[] {
  if (found.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Gaps found' },
    {
      kind: 'table',
      summary: 'Gaps with action, owner and day',
      columns: [
        { head: 'Gap', share: 8, align: 'right' },
        { head: 'Found', share: 40 },
        { head: 'Action', share: 36 },
        { head: 'Owner and day', share: 26 },
        { head: 'Done', share: 26 },
      ],
      rows: found.map((one): Row => ({
        kind: 'row',
        cells: [
          `${one.gap}`,
          one.found,
          one.action,
          [{ text: one.owner }, { text: writtenDate(one.dueOn), look: 'quiet' }],
          one.done ?? [{ text: 'open', look: 'accent' }],
        ],
      })),
      empty: 'None.',
    },
  ];
}

/** What is outstanding, and who signed that it can be closed. */
export function closeOut(progress: RecallProgress): Block[] {
  const { status, outstanding, signatures } = progress;
  return [
    { kind: 'heading', level: 2, text: 'Closing', note: status === 'closed' ? 'Closed by two signatures.' : 'Open.' },
    ...(outstanding.length === 0
      ? [{ kind: 'paragraph' as const, text: 'Nothing is outstanding.' }]
      : [
          {
            kind: 'caution' as const,
            title: status === 'closed' ? 'Closed although outstanding' : 'Outstanding',
            lines: outstanding.map(({ detail }) => detail),
          },
        ]),
    {
      kind: 'table',
      summary: 'Signatures that close the recall',
      columns: [
        { head: 'Entry', share: 9, align: 'right' },
        { head: 'When', share: 29 },
        { head: 'Who signed', share: 23 },
        { head: 'Why, and what the signature means', share: 62 },
      ],
      rows: signatures.map((one): Row => ({
        kind: 'row',
        cells: [
          writtenCount(one.seq),
          writtenInstant(one.at),
          [{ text: one.by }, { text: `as ${one.as}`, look: 'quiet' }],
          [
            { text: one.reason },
            ...(one.nevertheless === null ? [] : [{ text: `Although ${one.outstanding.join('; ')}: ${one.nevertheless}` }]),
            { text: `Signed as meaning: ${one.meaning}`, look: 'quiet' as const },
            ...(one.stands ? [] : [{ text: 'Counts no more: what it signed has changed since.', look: 'accent' as const }]),
          ],
        ],
      })),
      empty: 'Nobody has signed the closing yet.',
    },
  ];
}
