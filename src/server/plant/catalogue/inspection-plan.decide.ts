import { methodFaults } from '../../../../shared/measuring/method-faults.js';
import type { Reasons } from '../../../../shared/refusal.js';
import { aqlOf, limitsItems, nearestAqls } from '../../../../shared/sampling/aql.js';
import { PLAN_TYPES } from '../../../../shared/sampling/tables.js';
import type { CatalogueState } from './catalogue-state.facts.js';
import type { Characteristic, InspectionPlan, MeasuredCharacteristic, Sampling } from './inspection-plan.facts.js';

/**
 * Everything wrong with an inspection plan.
 * @see docs/rules/inspection-plans.md IP-1 to IP-8
 */
export function inspectionPlanFaults(no: Reasons, plan: InspectionPlan, state: CatalogueState): void {
  if (!state.items.has(plan.code)) {
    no.unknown('item-unknown', `no item ${plan.code}: a plan has the code of the item it is for`, { pointer: '/code' });
  }
  if (plan.sampling !== undefined) samplingFaults(no, plan.sampling);
  const testsLot = plan.characteristics.some((one) => one.kind === 'measured' && one.per === 'lot' && one.required);
  if (plan.sampling === undefined && !testsLot) {
    no.malformed('plan-looks-at-nothing', 'a plan takes a sample of items, or requires a test of the lot', { pointer: '/sampling' });
  }
  if (new Set(plan.occasions).size !== plan.occasions.length) {
    no.malformed('occasion-named-twice', 'each occasion is named once', { pointer: '/occasions' });
  }
  const seen = new Set<string>();
  plan.characteristics.forEach((one, i) => {
    const pointer = `/characteristics/${i}`;
    if (seen.has(one.code)) {
      no.conflict('characteristic-named-twice', `${one.code} is named twice`, { pointer: `${pointer}/code` });
    }
    seen.add(one.code);
    characteristicFaults(no, one, plan, state, pointer);
  });
}

function samplingFaults(no: Reasons, { type, basis, classes }: Sampling): void {
  if (!PLAN_TYPES.includes(type)) {
    no.conflict('plan-type-not-offered', `${type} sampling is not offered: ${PLAN_TYPES.join(' or ')} is`, { pointer: '/sampling/type' });
  }
  const seen = new Set<string>();
  classes.forEach((one, i) => {
    const pointer = `/sampling/classes/${i}`;
    if (seen.has(one.class)) no.conflict('class-named-twice', `${one.class} has two limits`, { pointer: `${pointer}/class` });
    seen.add(one.class);
    if (aqlOf(one.aql) === undefined) {
      const nearest = nearestAqls(one.aql);
      no.malformed('aql-unknown', `${one.aql} is no AQL of ISO 2859-1; the nearest are ${nearest.join(' and ')}`, {
        pointer: `${pointer}/aql`,
        nearest,
      });
    } else if (basis === 'items' && !limitsItems(one.aql)) {
      no.conflict('aql-not-for-items', `an AQL of ${one.aql} is for nonconformities per 100 items, not for nonconforming items`, {
        pointer: `${pointer}/aql`,
      });
    }
  });
}

function characteristicFaults(no: Reasons, one: Characteristic, plan: InspectionPlan, state: CatalogueState, pointer: string): void {
  if (one.kind === 'measured') {
    measuredFaults(no, one, plan, pointer);
    return;
  }
  if (plan.sampling === undefined) {
    no.conflict('sample-missing', `${one.code} is looked at on items: the plan takes no sample of them`, { pointer });
  }
  if (one.defect !== undefined && !state.defects.has(one.defect)) {
    no.unknown('defect-unknown', `no defect ${one.defect} on the plant's list`, { pointer: `${pointer}/defect` });
  }
}

function measuredFaults(no: Reasons, one: MeasuredCharacteristic, plan: InspectionPlan, pointer: string): void {
  if (one.unit === '') no.malformed('unit-missing', `say in which unit ${one.code} is measured`, { pointer: `${pointer}/unit` });
  if (one.per === 'item' && plan.sampling === undefined) {
    no.conflict('sample-missing', `${one.code} is measured on items: the plan takes no sample of them`, { pointer });
  }
  if (one.items !== undefined && one.per === 'lot') {
    no.conflict('items-not-here', `${one.code} is measured on the lot, not on items`, { pointer: `${pointer}/items` });
  }
  limitFaults(no, one, pointer);
  for (const fault of methodFaults(one.compute)) {
    no.malformed('method-wrong', fault.message, { pointer: `${pointer}/compute${fault.at}` });
  }
  if (one.compute.kind === 'single' && one.replicates !== 1) {
    no.conflict('replicates-not-here', 'a single reading is one: several make a mean or a range', { pointer: `${pointer}/replicates` });
  }
}

function limitFaults(no: Reasons, { code, lowerMicro, upperMicro, targetMicro, compute }: MeasuredCharacteristic, pointer: string): void {
  if (lowerMicro === undefined && upperMicro === undefined && compute.kind !== 'net-content') {
    no.malformed('limit-missing', `${code} needs a lower or an upper limit`, { pointer });
  }
  const [lower, upper] = [lowerMicro ?? -Infinity, upperMicro ?? Infinity];
  if (lower > upper) no.malformed('limits-reversed', `the lower limit of ${code} is above the upper one`, { pointer: `${pointer}/lower` });
  else if (targetMicro !== undefined && (targetMicro < lower || targetMicro > upper)) {
    no.malformed('target-outside-limits', `the target of ${code} is outside its limits`, { pointer: `${pointer}/target` });
  }
}
