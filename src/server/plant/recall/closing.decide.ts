import { formatQuantity } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import type { Role } from '../people/access.js';
import type { Signature } from '../people/signature.js';
import { type ConsigneeAccount, shareBp, sumAccounts } from './consignee-accounts.facts.js';
import { checksNeeded } from './effectiveness.facts.js';
import { checkOpen } from './open.decide.js';
import { type Closer, CLOSERS, type RecallClosingSigned } from './progress.facts.js';
import { latestBy, type Progress, type RecallEntry } from './progress-state.facts.js';

/** How much of what was made the record can account for, by unit; numbered pieces in millionths too. */
export interface RecordShare {
  readonly unit: string;
  readonly affectedMicro: number;
  /** Never more than was affected; what goes beyond it in any lot is an error and stands beside. */
  readonly accountedMicro: number;
  readonly overMicro: number;
}

/** What is not done yet, each with its code. */
export interface Outstanding {
  readonly code: string;
  readonly detail: string;
}

interface ClosingGround {
  readonly progress: Progress;
  readonly consignees: readonly ConsigneeAccount[];
  readonly record: readonly RecordShare[];
}

/** Under this share of what was made, and over 100 %, a record has to be explained (plant practice). */
const ENOUGH_BP = 9_950;

/**
 * Everything that stands in the way of closing.
 * @see docs/rules/recall.md RL-18
 */
export function outstandingOf(ground: ClosingGround): Outstanding[] {
  const { progress, consignees, record } = ground;
  const found: Outstanding[] = [];
  for (const { unit, affectedMicro, accountedMicro, overMicro } of record) {
    const share = shareBp(accountedMicro, affectedMicro);
    if (share >= ENOUGH_BP && overMicro === 0) continue;
    const [accounted, affected, over] = [accountedMicro, affectedMicro, overMicro].map(formatQuantity);
    const more = overMicro === 0 ? '' : `, and for ${over} more than there were`;
    found.push({
      code: 'record-differs',
      detail: `the record accounts for ${accounted} of ${affected} ${unit}, ${writtenBp(share)} %${more}`,
    });
  }
  if (progress.opened.fact.drill) return found;
  return [...found, ...strategyMissing(progress), ...toldAndAnswered(progress, consignees), ...goods(consignees), ...checks(ground)];
}

export const writtenBp = (bp: number): string => `${Math.floor(bp / 100)}.${String(bp % 100).padStart(2, '0')}`;

function strategyMissing({ strategies, notices }: Progress): Outstanding[] {
  const terms = strategies.at(-1)?.fact.terms;
  if (!terms) return [{ code: 'no-strategy', detail: 'no hazard evaluation, class or strategy is set' }];
  const warned = notices.some(({ fact }) => fact.customer === null);
  return terms.publicWarning.needed && !warned
    ? [{ code: 'public-not-warned', detail: 'the strategy asks for a public warning, and none was given' }]
    : [];
}

function toldAndAnswered({ notices, answers }: Progress, consignees: readonly ConsigneeAccount[]): Outstanding[] {
  const told = latestBy(notices);
  const replied = latestBy(answers);
  const untold = consignees.filter(({ customer }) => !told.has(customer)).map(({ customer }) => customer);
  const silent = consignees.filter(({ customer }) => told.has(customer) && !replied.has(customer)).map(({ customer }) => customer);
  return [
    ...(untold.length === 0 ? [] : [{ code: 'not-all-notified', detail: `sent no notice: ${untold.join(', ')}` }]),
    ...(silent.length === 0 ? [] : [{ code: 'not-all-answered', detail: `no answer from ${silent.join(', ')}` }]),
  ];
}

function goods(consignees: readonly ConsigneeAccount[]): Outstanding[] {
  return sumAccounts(consignees.flatMap(({ lots }) => lots)).flatMap(({ unit, outstandingMicro, contradictedMicro, sentMicro }) => {
    const [out, twice, sent] = [outstandingMicro, contradictedMicro, sentMicro].map(formatQuantity);
    return [
      ...(outstandingMicro === 0 ? [] : [{ code: 'goods-outstanding', detail: `${out} of ${sent} ${unit} sent are not accounted for` }]),
      ...(contradictedMicro === 0
        ? []
        : [{ code: 'accounted-twice', detail: `${twice} ${unit} are accounted for although they were not sent or came back` }]),
    ];
  });
}

function checks({ progress, consignees }: ClosingGround): Outstanding[] {
  const terms = progress.strategies.at(-1)?.fact.terms;
  if (!terms) return [];
  const done = latestBy(progress.checks);
  const needed = checksNeeded(terms.level, consignees.length, terms.sampleSize);
  const checked = consignees.filter(({ customer }) => done.has(customer));
  const failed = checked.filter(({ customer }) => !done.get(customer)!.fact.followed).map(({ customer }) => customer);
  return [
    ...(checked.length >= needed
      ? []
      : [{ code: 'checks-missing', detail: `level ${terms.level} asks for ${needed} effectiveness checks, ${checked.length} are done` }]),
    ...(failed.length === 0 ? [] : [{ code: 'checks-failed', detail: `the notice was not followed by ${failed.join(', ')}` }]),
  ];
}

interface CloseRecall {
  readonly reason: string;
  /** Why it is closed although something is outstanding. */
  readonly nevertheless?: string | undefined;
}

export interface CloseState extends ClosingGround {
  readonly actor: { readonly person: string; readonly roles: readonly Role[] };
  /** SHA-256 of the status as it stands. */
  readonly status: string;
}

/** The first signature, if it still signs what there is. */
export const standingSignature = ({ signatures }: Progress, status: string): RecallEntry<RecallClosingSigned> | undefined => {
  const last = signatures.at(-1);
  return last && !last.fact.closes && last.fact.status === status ? last : undefined;
};

/**
 * One of two signatures, of a recall lead and of quality and by two persons; the second closes.
 * @throws Refusal with all that is outstanding, unless it is said why it is closed nevertheless
 * @see docs/rules/recall.md RL-18
 */
export function decideClosing(command: CloseRecall, state: CloseState, signature: Signature): RecallClosingSigned {
  const { progress, status, actor } = state;
  const no = new Reasons();
  checkOpen(no, progress);
  const first = standingSignature(progress, status);
  const as = closerOf(no, actor, first?.fact);
  const outstanding = outstandingOf(state);
  const nevertheless = command.nevertheless ?? first?.fact.nevertheless ?? null;
  if (nevertheless === null) {
    for (const { code, detail } of outstanding) no.conflict(code, detail, { pointer: '/nevertheless' });
  }
  no.throwIfAny();
  return {
    kind: 'RecallClosingSigned',
    v: 1,
    recall: progress.recall,
    as: as!,
    status,
    outstanding: outstanding.map(({ detail }) => detail),
    nevertheless: outstanding.length === 0 ? null : nevertheless,
    reason: command.reason,
    signature,
    closes: first !== undefined,
  };
}

function closerOf(no: Reasons, { person, roles }: CloseState['actor'], first: RecallClosingSigned | undefined): Closer | undefined {
  if (first?.signature.by === person) {
    no.forbidden('closing-signed-already', `${person} has signed as ${first.as}: somebody else has to sign too`);
    return undefined;
  }
  const wanted = CLOSERS.filter((one) => one !== first?.as);
  const as = wanted.find((one) => roles.includes(one));
  if (!as) no.forbidden('closing-needs-other', `it is signed as ${first?.as ?? 'nobody'}: now ${wanted.join(' or ')} has to sign`);
  return as;
}
