import { formatSpans, type Span, type SpanSet, subtractSpans } from '../../../shared/spans.js';
import { later } from './calendar.js';
import type { Story } from './story.js';

/** Consignees told on the first day: those who were sent most. The others wait for the next, and most of those told are still silent. */
const TOLD = 9;

interface LotAccount {
  readonly lot: string;
  readonly sent: { readonly quantity: string };
  readonly outstanding: { readonly spans: SpanSet };
}

export interface Consignee {
  readonly customer: string;
  readonly lots: readonly LotAccount[];
}

/** Quality and the recall lead agree on how grave it is and whom to reach; then the words of the notice are written. */
export async function setStrategy(story: Story, recall: string, instant: string): Promise<void> {
  story.clock(instant);
  const path = `/api/recalls/${recall}`;
  await story.sign('iris.recall', `${path}/strategy`, {
    reason: 'agreed with quality after the retained samples were tested again',
    evaluation: {
      injuries: 'none is known; six complaints of rust',
      conditions: 'chains ridden in the wet and not waxed again for weeks',
      exposed: 'riders of the bicycles, children among them',
      seriousness: 'a chain that breaks under load can throw a rider',
      likelihood: 'low: rust shows and is heard long before a chain breaks',
      consequences: 'at once none; over a season, wear and in the worst case a broken chain',
    },
    class: 'II',
    classReason: 'harm is remote, and can be averted by waxing the chain again',
    depth: 'retail',
    publicWarning: { needed: false, reason: 'every workshop that was sent some is known, and they know their riders' },
    level: 'B',
    sampleSize: 6,
    completionOn: story.dateAfter(instant.slice(0, 10), 16),
  });
  const lots = (await consignees(story, recall)).flatMap((one) => one.lots.map(({ lot }) => lot));
  await story.as('iris.recall').post(`${path}/notice-texts`, {
    subject: 'URGENT: recall of chain wax, can 250 g',
    product: `Chain wax, can 250 g, blue. The lot code is printed on the bottom of the can: ${[...new Set(lots)].toSorted().join(', ')}.`,
    reason: 'The rust inhibitor in these lots is under strength. A chain waxed with them may rust, wear early and, if neglected, break.',
    stop: 'Stop selling and using these lots now.',
    doWhat: 'Set the cans apart, count them by lot code, and keep them for our lorry. Chains already waxed: clean and wax them again.',
    passOn: 'Tell every rider or workshop you passed cans on to.',
    replyTo: 'Answer on the form below or call Iris Novak at Fernhollow Works, also if you have none left.',
  });
}

/** The first notices go out, to those who were sent most. Answers who they are. */
export async function tellConsignees(story: Story, recall: string, instant: string): Promise<readonly Consignee[]> {
  const cans = ({ lots }: Consignee): number => lots.reduce((sum, { sent }) => sum + Number(sent.quantity), 0);
  const all = await consignees(story, recall);
  const told = all.toSorted((a, b) => cans(b) - cans(a) || (a.customer < b.customer ? -1 : 1)).slice(0, TOLD);
  for (const [i, { customer }] of told.entries()) {
    story.clock(later(instant, 4 * i));
    const channel = i < 3 ? 'telephone' : 'email';
    await story.as('iris.recall').post(`/api/recalls/${recall}/notices`, { customer, channel, contentVersion: 1 });
  }
  return told;
}

/** A consignee answers: of each lot it still has the end. */
export async function answerNotice(story: Story, recall: string, { customer, lots }: Consignee, instant: string): Promise<void> {
  story.clock(instant);
  await story.as('iris.recall').post(`/api/recalls/${recall}/answers`, {
    customer,
    followedInstructions: { stopped: true, acted: true, passedOn: true },
    onHand: lots.map(({ lot, outstanding }) => ({ lot, pieces: formatSpans([endOf(outstanding.spans)]) })),
    signedBy: 'the workshop’s owner',
    answeredOn: instant.slice(0, 10),
    note: 'set apart on the bench, for the lorry on Friday',
  });
}

/** What it no longer has of its first lot it has sold, and shows to whom. */
export async function accountFor(story: Story, recall: string, { customer, lots }: Consignee, instant: string): Promise<void> {
  story.clock(instant);
  const { lot, outstanding } = lots[0]!;
  await story.as('iris.recall').post(`/api/recalls/${recall}/accounts`, {
    customer,
    lot,
    soldOn: { pieces: formatSpans(subtractSpans(outstanding.spans, [endOf(outstanding.spans)])) },
    evidence: 'till list of the workshop, sent with its answer',
  });
}

/** The last third of the last stretch. */
function endOf(spans: SpanSet): Span {
  const [first, last] = spans.at(-1)!;
  return [last - Math.floor((last - first) / 3), last];
}

const consignees = async (story: Story, recall: string): Promise<readonly Consignee[]> =>
  (await story.as('iris.recall').get<{ consignees: Consignee[] }>(`/api/recalls/${recall}/status`)).consignees;
