import type { SeverityClass } from '../catalogue/inspection-plan.facts.js';
import type { Role } from '../people/people.facts.js';
import type { DispositionKind, DispositionTerms } from './disposition.facts.js';
import type { Disposition, Report } from './report-state.facts.js';

/** What signatures a kind of disposition waits for. */
export interface Rule {
  /** Functions that must be among the signers. */
  readonly functions: readonly Role[];
  /** Signers in all, each for another function. */
  readonly signers: number;
}

/** The plant's review rule, by kind of disposition; graver nonconformities may ask for more. */
export type ReviewRule = Readonly<Record<DispositionKind, Rule>>;

const BY_QUALITY: Rule = { functions: ['quality'], signers: 1 };
const WITH_ANOTHER: Rule = { functions: ['quality'], signers: 2 };

/** Where a plant has said nothing else: quality, and one other function for what leaves a nonconformity in the product. */
export const USUAL_RULE: ReviewRule = {
  rework: BY_QUALITY,
  repair: WITH_ANOTHER,
  regrade: BY_QUALITY,
  scrap: BY_QUALITY,
  concession: WITH_ANOTHER,
  'return-to-supplier': BY_QUALITY,
  sort: BY_QUALITY,
};

/** Functions that may sign a disposition. The auditor changes nothing. */
export const SIGNING_FUNCTIONS: readonly Role[] = ['quality', 'operator', 'inspector', 'dispatcher', 'recall-lead', 'administrator'];

/**
 * The rule for these terms: a critical nonconformity is never left to one signature, and a concession of it needs the customer or the
 * design authority beside (FAR 46.407: major and critical only on technical advice; from the reference list).
 */
const ruleFor = (rule: ReviewRule, { kind }: DispositionTerms, severity: SeverityClass): Rule =>
  severity === 'critical' && (kind === 'concession' || kind === 'repair')
    ? { ...rule[kind], signers: Math.max(2, rule[kind].signers) }
    : rule[kind];

/** What of its signatures a disposition has and lacks. */
export interface SignatureStanding {
  /** Signatures on exactly what stands now. */
  readonly valid: Disposition['signatures'];
  /** Signatures on something that has changed since. */
  readonly broken: Disposition['signatures'];
  /** In words; empty when it is signed. */
  readonly lacks: readonly string[];
}

/**
 * Which signatures of a disposition hold, and what is lacking. Whoever raised the report, or made the pieces, does not decide alone: at least
 * one signer is neither (domain rule 7).
 * @param digest of what would be signed now
 * @see docs/rules/nonconformance.md NR-23 to NR-26
 */
export function signatureStanding(
  one: Disposition,
  report: Report,
  { rule, digest, makers }: { readonly rule: ReviewRule; readonly digest: string; readonly makers: readonly string[] },
): SignatureStanding {
  const valid = one.signatures.filter((signature) => signature.fact.digest === digest);
  const broken = one.signatures.filter((signature) => signature.fact.digest !== digest);
  const wanted = ruleFor(rule, one.terms, report.severity);
  const lacks: string[] = [];
  const functions = new Set(valid.map((signature) => signature.fact.as));
  for (const needed of wanted.functions) if (!functions.has(needed)) lacks.push(`a signature of ${needed}`);
  const people = new Set(valid.map((signature) => signature.fact.signature.by));
  const short = wanted.signers - Math.min(people.size, functions.size);
  const others = short - lacks.length;
  if (others > 0) lacks.push(`${others === 1 ? 'one signature' : `${others} signatures`} of another function`);
  const involved = new Set([report.raised.actor, ...makers]);
  if (people.size > 0 && [...people].every((person) => involved.has(person))) {
    lacks.push('a signer who neither raised the report nor made the pieces');
  }
  return { valid, broken, lacks };
}
