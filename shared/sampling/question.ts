import { Reasons } from '../refusal.js';
import { type Aql, AQLS, aqlOf, type Basis, BASES, limitsItems, nearestAqls } from './aql.js';
import { isLotSize, type Level, LEVELS } from './code-letter.js';
import { PLAN_TYPES, type PlanType, SEVERITIES, type Severity } from './tables.js';

/** A question for a plan as it comes from outside, each value still to be checked. */
export interface PlanQuestion {
  /** NaN: not a number, or not said. */
  readonly lotSize: number;
  /** Empty, as in `aql`: not said. */
  readonly level: string;
  /** However the number is written. */
  readonly aql: string;
  /** Left out: normal. */
  readonly severity?: string | undefined;
  /** Left out: single. */
  readonly type?: string | undefined;
  /** Left out: items where the AQL can mean them, nonconformities where it cannot. */
  readonly basis?: string | undefined;
}

/** The same, understood. */
export interface CheckedQuestion {
  readonly lotSize: number;
  readonly level: Level;
  readonly aql: Aql;
  readonly severity: Severity;
  readonly type: PlanType;
  readonly basis: Basis;
}

/** How a value is named in a sentence: by itself, or as missing. */
const named = (text: string, what: string, none: string): string => (text === '' ? `${what} is needed` : `'${text}' is ${none}`);

const oneOf = <T extends string>(list: readonly T[], text: string): T | undefined => list.find((known) => known === text);

/**
 * The AQL in its printed form; what is none of the 26 is added to the reasons, with the nearest named.
 * @param pointer JSON pointer to where it was asked
 */
export function checkedAql(text: string, reasons: Reasons, pointer = '/aql'): Aql | undefined {
  const aql = aqlOf(text);
  if (aql !== undefined) return aql;
  const nearest = nearestAqls(text);
  const instead =
    nearest.length === 0
      ? `they run from ${AQLS[0]} to ${AQLS.at(-1)}`
      : `the nearest ${nearest.length === 1 ? 'is' : 'are'} ${nearest.join(' and ')}`;
  const detail = `${named(text, 'an AQL', 'none of the 26 AQLs of the standard')}: ${instead}`;
  reasons.malformed('aql-unknown', detail, { nearest, pointer });
  return undefined;
}

/**
 * The type of plan; one that is not offered is added to the reasons.
 * @param pointer JSON pointer to where it was asked
 */
export function checkedType(text: string, reasons: Reasons, pointer = '/type'): PlanType | undefined {
  const type = oneOf(PLAN_TYPES, text);
  if (type !== undefined) return type;
  const why = text === 'multiple' ? 'no source of the tables of multiple plans could be found' : 'there are no such plans';
  reasons.malformed('plan-type-not-offered', `${text} plans are not offered, ${why}: ask for single or double`, { pointer });
  return undefined;
}

/**
 * What an AQL counts, where it is said; a limit above 10 cannot be a percentage of items, which is added to the reasons.
 * @param pointer JSON pointer to where it was asked
 */
export function checkedBasis(text: string | undefined, aql: Aql | undefined, reasons: Reasons, pointer = '/basis'): Basis | undefined {
  const usual: Basis = aql === undefined || limitsItems(aql) ? 'items' : 'nonconformities';
  const basis = oneOf(BASES, text ?? usual);
  if (basis === undefined) {
    reasons.malformed('basis-unknown', `'${text}' is nothing an AQL counts: it counts ${BASES.join(' or ')}`, { pointer });
  } else if (basis === 'items' && aql !== undefined && !limitsItems(aql)) {
    const detail = `AQL ${aql} counts nonconformities per 100 items: only limits up to 10 can be per cent nonconforming items`;
    reasons.malformed('aql-not-for-items', detail, { pointer });
  }
  return basis;
}

/**
 * Understands a question, or says everything that is wrong with it at once.
 * @throws Refusal `lot-size-wrong`, `level-unknown`, `aql-unknown` (with `nearest`), `severity-unknown`, `plan-type-not-offered`,
 * `basis-unknown`, `aql-not-for-items`; each with a pointer to its member
 */
export function checkedQuestion(question: PlanQuestion): CheckedQuestion {
  const reasons = new Reasons();
  if (!isLotSize(question.lotSize)) {
    const instead = Number.isNaN(question.lotSize) ? '' : `: not ${question.lotSize}`;
    const detail = `a lot size is one item or more, a whole number up to 2^53${instead}`;
    reasons.malformed('lot-size-wrong', detail, { pointer: '/lotSize' });
  }
  const level = oneOf(LEVELS, question.level);
  if (level === undefined) {
    const detail = `${named(question.level, 'an inspection level', 'no inspection level')}: there are ${LEVELS.join(', ')}`;
    reasons.malformed('level-unknown', detail, { pointer: '/level' });
  }
  const aql = checkedAql(question.aql, reasons);
  const severity = oneOf(SEVERITIES, question.severity ?? 'normal');
  if (severity === undefined) {
    const detail = `'${question.severity}' is no severity: there are ${SEVERITIES.join(', ')}`;
    reasons.malformed('severity-unknown', detail, { pointer: '/severity' });
  }
  const type = checkedType(question.type ?? 'single', reasons);
  const basis = checkedBasis(question.basis, aql, reasons);
  reasons.throwIfAny();
  return { lotSize: question.lotSize, level: level!, aql: aql!, severity: severity!, type: type!, basis: basis! };
}
