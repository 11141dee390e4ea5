import { Injectable } from '@nestjs/common';
import { Reasons, Refusal } from '../../../../shared/refusal.js';
import { ocFault, operatingCharacteristic } from '../../../../shared/sampling/oc.js';
import type { PlanNumbers } from '../../../../shared/sampling/oc-law.js';
import { samplingPlan } from '../../../../shared/sampling/plan.js';
import type { OcQueryDto, OperatingCharacteristicView, PlanQueryDto, PlanView } from './sampling.dto.js';

const asTextIfSaid = (value: unknown): string | undefined =>
  value === undefined || typeof value === 'string' ? value : JSON.stringify(value);
const asText = (value: unknown): string => asTextIfSaid(value) ?? '';

const SINGLE = ['n', 'ac'] as const;
const DOUBLE = ['n1', 'ac1', 're1', 'n2', 'ac2', 're2'] as const;

/** The plan whose numbers a query gives: all of one kind, and none of the other. */
function numbersOf(query: OcQueryDto): PlanNumbers {
  const reasons = new Reasons();
  const said = (name: keyof OcQueryDto): boolean => query[name] !== undefined;
  const kind = DOUBLE.some(said) ? DOUBLE : SINGLE;
  for (const name of kind.filter((of) => !said(of))) {
    const detail = `${name} is needed: a single plan has ${SINGLE.join(', ')}, a double plan ${DOUBLE.join(', ')}`;
    reasons.malformed('plan-incomplete', detail, { pointer: `/${name}` });
  }
  for (const name of kind === DOUBLE ? SINGLE.filter(said) : []) {
    reasons.malformed('plan-mixed', `${name} belongs to a single plan: the rest is of a double one`, { pointer: `/${name}` });
  }
  reasons.throwIfAny();
  const { n, ac, n1, ac1, re1, n2, ac2, re2 } = query as Required<OcQueryDto>;
  return kind === SINGLE ? { n, ac } : { n1, ac1, re1, n2, ac2, re2 };
}

/** Answers from the standard and from arithmetic; it reads nothing of the plant. */
@Injectable()
export class SamplingService {
  /** @throws Refusal with everything that is wrong with the query */
  plan({ lotSize, level, aql, severity, type, basis }: PlanQueryDto): PlanView {
    const found = samplingPlan({
      lotSize: typeof lotSize === 'string' && /^\d+$/.test(lotSize) ? Number(lotSize) : Number.NaN,
      level: asText(level),
      aql: asText(aql),
      severity: asTextIfSaid(severity),
      type: asTextIfSaid(type),
      basis: asTextIfSaid(basis),
    });
    return { ...found, arrows: [...found.arrows] };
  }

  /** @throws Refusal `plan-incomplete`, `plan-mixed`, `oc-impossible` */
  curve(query: OcQueryDto): OperatingCharacteristicView {
    const plan = numbersOf(query);
    const { aql, lotSize, distribution = (aql ?? 0) > 10 ? 'poisson' : 'binomial' } = query;
    const options = { distribution, ...(aql === undefined ? {} : { aql }), ...(lotSize === undefined ? {} : { lotSize }) };
    const fault = ocFault(plan, options);
    if (fault !== null) throw new Refusal('malformed', [{ code: 'oc-impossible', detail: fault }]);
    const found = operatingCharacteristic(plan, options);
    return { ...found, points: [...found.points], qualityAt: [...found.qualityAt] };
  }
}
