import { closeOut, consigneeAccounts, effectivenessChecks, gaps, times } from './recall-progress.goods.js';
import { hazardAndClass, noticesAndAnswers, strategy } from './recall-progress.strategy.js';
import { recallAmounts } from './recall-report.amounts.js';
import { recallConsignees } from './recall-report.consignees.js';
import { addsUp, reconcile, type UnitAccount } from './recall-report.reconcile.js';
import { recallReconciliation } from './recall-report.reconciliation.js';
import { affectedLots, productIdentification, recallScopes } from './recall-report.scope.js';
import { decisions, runsInProcess, timeline } from './recall-report.story.js';
import type { Fate, RecallReport } from './recall-report.types.js';
import { recallRibbons } from './ribbon.figure.js';
import { recallRiver } from './river.figure.js';
import type { Block, Sheet, Stamp, TitleBlock } from './sheet.model.js';
import { writtenCount, writtenHash, writtenInstant, writtenPieces, writtenQuantity } from '../../../shared/written.js';

const DRILL: Stamp = { word: 'Drill', look: 'drill' };
const STATUS: Readonly<Record<RecallReport['recall']['status'], Stamp>> = {
  open: { word: 'Open', look: 'open' },
  closed: { word: 'Closed', look: 'muted' },
  withdrawn: { word: 'Withdrawn', look: 'muted' },
};

/**
 * Everything a recall report says, as a sheet. Pure: the same report gives the same sheet.
 * @throws RangeError when whereabouts are given for a lot that is not affected
 */
export function recallSheet(report: RecallReport): Sheet {
  const { recall, asKnownAt } = report;
  const accounts = reconcile(report.affectedLots, report.whereabouts);
  return {
    title: `${recall.drill ? 'Recall drill' : 'Recall'} ${recall.number}: ${recall.title}`,
    reference: recall.number,
    proof:
      `${recall.drill ? 'Drill. ' : ''}As known at ledger entry ${writtenCount(asKnownAt.seq)}, ` +
      `${writtenInstant(asKnownAt.at)}, chain hash ${writtenHash(asKnownAt.hash, 16)}${progressProof(report)}`,
    pageStamp: recall.drill ? DRILL : null,
    madeAt: report.madeAt,
    author: report.plantName,
    blocks: [
      titleBlock(report, accounts),
      ...(recall.drill ? [drillCaution()] : []),
      readFirst(report, accounts),
      { kind: 'contents' },
      ...whatAndWhy(report),
      ...productIdentification(report),
      ...recallAmounts(report),
      ...recallScopes(report),
      ...affectedLots(report),
      ...recallRiver(report),
      ...recallRibbons(report),
      ...recallConsignees(report, accounts),
      ...recallReconciliation(report, accounts),
      ...runsInProcess(report),
      ...underWay(report),
      ...timeline(report),
      ...decisions(report),
      ...record(report),
      ...standingCautions(report),
    ],
  };
}

/** The progress is of an entry of its own, which every page names too. */
const progressProof = ({ progress }: RecallReport): string =>
  progress ? `; progress at entry ${writtenCount(progress.asKnownAt.seq)}, ${writtenHash(progress.asKnownAt.hash, 8)}` : '';

function underWay({ progress }: RecallReport): Block[] {
  if (!progress) return [];
  return [hazardAndClass, strategy, noticesAndAnswers, consigneeAccounts, effectivenessChecks, times, gaps, closeOut].flatMap((section) =>
    section(progress),
  );
}

function titleBlock(report: RecallReport, accounts: readonly UnitAccount[]): TitleBlock {
  const { recall } = report;
  const scope = report.scopes[report.scopes.chosen];
  const numbered = accounts.find(({ unit }) => unit === 'pieces');
  const pieces = (fate: Fate): string => writtenCount(numbered?.byFate.get(fate) ?? 0);
  return {
    kind: 'title',
    crumb: `${recall.drill ? 'Recall drill report' : 'Recall report'} · ${report.plantName}`,
    code: recall.number,
    title: recall.title,
    stamps: [...(recall.drill ? [DRILL] : []), STATUS[recall.status]],
    numbers: [
      { label: 'Affected pieces', value: writtenCount(scope.pieces), accent: true },
      ...scope.bulk
        .slice(0, 1)
        .map(({ unit, quantityMicro }) => ({ label: 'Affected in bulk', value: writtenQuantity(quantityMicro, unit) })),
      { label: 'Consignees', value: writtenCount(report.consignees.length) },
      { label: 'Dispatched pieces', value: pieces('dispatched') },
      { label: 'On hand', value: pieces('on hand') },
      addsUp(accounts) ? { label: 'Reconciled', value: 'adds up' } : { label: 'Reconciled', value: 'differs', accent: true },
    ],
  };
}

function drillCaution(): Block {
  return {
    kind: 'caution',
    title: 'This is a drill',
    lines: [
      'It was opened to practise. Nothing in it asks anyone to stop, return or destroy goods, and it is not to be sent to consignees ' +
        'or authorities. The lots, pieces and parties are those of the record.',
    ],
  };
}

/** What could do harm if it were found only on page five. */
function readFirst({ inProcess, recall, affectedLots: lots, progress }: RecallReport, accounts: readonly UnitAccount[]): Block {
  const runs = inProcess.map(({ run }) => run);
  return {
    kind: 'caution',
    title: 'Read first',
    lines: [
      ...(runs.length === 0
        ? []
        : [`Not finished, and holding affected material: ${runs.join(', ')}. Stop or segregate ${runs.length === 1 ? 'it' : 'them'} now.`]),
      ...(addsUp(accounts)
        ? []
        : ['Affected goods and their whereabouts differ; see Reconciliation for what cannot be found or is counted twice.']),
      ...(lots.some(({ status }) => status === 'released') && recall.status === 'open'
        ? ['Some affected lots are still released; see Affected lots.']
        : []),
      ...(progress?.status === 'open' && progress.outstanding.length > 0
        ? ['Not everything is done yet; see Closing for what is outstanding.']
        : []),
      'To notify authorities and consignees, and to act in time, is the duty of the people responsible under the law of each place; see Cautions.',
    ],
  };
}

function whatAndWhy({ recall, asKnownAt, progress }: RecallReport): Block[] {
  const facts = [
    { label: 'What is wrong', value: recall.what },
    { label: 'Why it is called back', value: recall.why },
    { label: 'Hazard', value: recall.hazard ?? notInHead(progress) },
    ...optional('Class', recall.class),
    ...optional('What holders are asked', recall.instruction),
    { label: 'Scope traced', value: `${recall.origin}, frozen at ledger entry ${writtenCount(asKnownAt.seq)}` },
    { label: 'Opened', value: `${writtenInstant(recall.openedAt)}, by ${recall.openedBy}` },
    ...optional('Contact', recall.contact),
  ];
  return [
    { kind: 'heading', level: 2, text: 'What and why' },
    { kind: 'facts', facts },
  ];
}

const notInHead = (progress: RecallReport['progress']): string =>
  progress && progress.strategies.length > 0
    ? 'Evaluated since it was opened: see Hazard and class.'
    : 'Not evaluated yet. Until it is, treat the affected goods as hazardous.';

function optional(label: string, value: string | null): { label: string; value: string }[] {
  return value === null ? [] : [{ label, value }];
}

function record({ asKnownAt, madeAt, plantName, affectedLots: lots, scopes, progress }: RecallReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'The record behind this report' },
    {
      kind: 'paragraph',
      text:
        `Every figure here was read from the append-only ledger of ${plantName} as it stood at one entry. Each entry holds the hash of the ` +
        'one before it, so the hash below fixes all that was recorded up to there. Asked again as known at the same entry, the ledger must ' +
        'give the same report; if its hash at that entry is another one, the history has been changed.',
    },
    {
      kind: 'facts',
      facts: [
        { label: 'Ledger entry', value: `${writtenCount(asKnownAt.seq)}, of ${writtenInstant(asKnownAt.at)}` },
        { label: 'Chain hash', value: [{ text: writtenHash(asKnownAt.hash), look: 'code' }] },
        {
          label: 'Scope in this report',
          value: `${scopes.chosen}: ${writtenCount(lots.length)} lots, ${writtenPieces(scopes[scopes.chosen].pieces)}`,
        },
        ...(progress
          ? [
              {
                label: 'Progress',
                value: `as known at entry ${writtenCount(progress.asKnownAt.seq)}, of ${writtenInstant(progress.asKnownAt.at)}`,
              },
              { label: 'Chain hash there', value: [{ text: writtenHash(progress.asKnownAt.hash), look: 'code' as const }] },
            ]
          : []),
        { label: 'Written', value: writtenInstant(madeAt) },
      ],
    },
  ];
}

function standingCautions(report: RecallReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Cautions' },
    {
      kind: 'caution',
      title: 'Before anyone acts on this report',
      lines: [
        ...report.cautions,
        'The law of every place the goods have reached decides who must be told, how soon and in what words. Telling authorities, warning ' +
          'consignees and acting in time are duties of the people responsible; this report does not carry them out and is no legal advice.',
        `It says what the ledger held at entry ${writtenCount(report.asKnownAt.seq)}. What was never recorded, was recorded later, or was ` +
          'recorded wrongly is not in it. Ask for a new report before acting on an old one.',
        'The narrow scope is as good as the evidence named beside it. Where a changeover, a count or a label is in doubt, use the conservative scope.',
        'A share is worked out as if each vessel had been well mixed. A small share does not mean that the goods are safe.',
        'Goods stay affected until someone with the authority to do so has signed another decision.',
      ],
    },
  ];
}
