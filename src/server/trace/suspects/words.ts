import type { Suspect, SuspectGroup } from '../../../../shared/api/suspects.js';

/** A number with its thousands apart; what is small, with two digits. */
const number = (value: number): string => {
  if (value < 10 && !Number.isInteger(value)) return String(Number(value.toPrecision(2)));
  return value.toLocaleString('en', { maximumFractionDigits: value < 100 ? 1 : 0 });
};
const of = (value: number, one: string): string => `${number(value)} ${one}${value === 1 ? '' : 's'}`;

/** A probability: 0.03, or 2e-94; what a number cannot hold is told by its logarithm. */
export function probability(p: number, log10: number): string {
  if (p >= 0.001) return String(Number(p.toPrecision(2)));
  const exponent = Math.floor(log10 + Math.log10(1 / 0.95)); // from 9.5 up it is one more
  return `${(10 ** (log10 - exponent)).toFixed(0)}e${exponent}`;
}

/** A candidate, in words. */
export function suspectInWords({ kind, code, item, supplier, from, until }: Omit<Suspect, 'words'>): string {
  if (kind === 'lot') return `lot ${code} (${item})`;
  if (kind === 'supplier-lot') return `lot ${code} of supplier ${supplier}`;
  if (kind !== 'vessel' && kind !== 'instrument') return `${kind} ${code}`;
  const what = kind === 'vessel' ? 'cleaning' : 'calibration';
  if (from === null && until === null) return `${kind} ${code}, no ${what} recorded`;
  if (from === null) return `${kind} ${code} until its ${what} at ${until}`;
  return `${kind} ${code} from its ${what} at ${from}${until === null ? ' on' : ` to that at ${until}`}`;
}

/** What a group comes to, in a sentence or two. */
export function groupInWords(group: Omit<SuspectGroup, 'says'>, failed: number, pieces: number, adjustedLog10: number): string {
  const names = group.suspects.slice(0, 3).map(({ words }) => words);
  const rest = group.suspects.length - names.length;
  const who = `${names.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}${group.suspects.length > 1 ? ', which cannot be told apart' : ''}`;
  const counted =
    `exposed were ${number(group.exposedFailed)} of ${number(failed)} failed and ${number(group.exposed)} of all ${of(pieces, 'piece')}; ` +
    `by chance ${number(group.expectedFailed)} of the failed would be`;
  const { estimate, lower, upper } = group.odds;
  const odds =
    `odds of failing ${estimate === null ? 'higher without end' : `${number(estimate)} times as high`} ` +
    `(95 % interval ${number(lower)} to ${upper === null ? 'no end' : number(upper)})`;
  const verdict = group.beyondChance ? 'more than chance' : 'may be chance';
  return `${who}: ${counted}; ${odds}; adjusted p ${probability(group.adjustedP, adjustedLog10)}: ${verdict}`;
}

/** What the ranking takes for granted. */
export const assumptions = (seq: number, tested: number): string[] => [
  `A piece is exposed to everything it holds or may hold, as recorded up to entry ${seq}: where no changeover is recorded, to the whole lot; to bulk material however little of it; to a part also when it was replaced since.`,
  'What is not named as failed counts as sound. Complaints are not all failures: where some customers, uses or times are heard of more than others, what their pieces have in common is over-represented too.',
  'Whether one piece fails has nothing to do with whether another does, but for what they have in common.',
  `${of(tested, 'group')} that can be told apart ${tested === 1 ? 'was' : 'were'} tested and p adjusted for that (Holm): if nothing were to blame, anything at all would be called more than chance in at most one of twenty such questions.`,
  'What shares pieces with a cause is over-represented along with it, less so the fewer they share.',
];

export const CAUTION =
  'Association is not cause. The list says where to look first, not what happened: look at the material, the record and the place before anything is decided, and never decide about a person on it.';
