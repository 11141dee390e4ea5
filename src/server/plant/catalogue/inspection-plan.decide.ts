import type { Reasons } from '../../../../shared/refusal.js';
import { checkedAql, checkedBasis, checkedType } from '../../../../shared/sampling/question.js';
import type { CatalogueState } from './catalogue-state.facts.js';
import { measuredFaults } from './characteristic.decide.js';
import type { AttributeCharacteristic, Characteristic, InspectionPlan, Sampling, SeverityClass } from './inspection-plan.facts.js';

/**
 * Everything wrong with an inspection plan.
 * @see docs/rules/inspection-plans.md IP-1 to IP-9
 */
export function inspectionPlanFaults(no: Reasons, plan: InspectionPlan, state: CatalogueState): void {
  const item = state.items.get(plan.code);
  if (!item) no.unknown('item-unknown', `no item ${plan.code}: a plan has the code of the item it is for`, { pointer: '/code' });
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
    if (one.kind === 'attribute' || one.per === 'item') onItemsFaults(no, one, plan, pointer);
    if (one.kind === 'attribute') defectFaults(no, one, state, pointer);
    else measuredFaults(no, one, item, pointer);
  });
}

function samplingFaults(no: Reasons, { type, basis, classes }: Sampling): void {
  checkedType(type, no, '/sampling/type');
  const seen = new Set<string>();
  classes.forEach((one, i) => {
    const pointer = `/sampling/classes/${i}`;
    if (seen.has(one.class)) no.conflict('class-named-twice', `${one.class} has two AQLs`, { pointer: `${pointer}/class` });
    seen.add(one.class);
    checkedBasis(basis, checkedAql(one.aql, no, `${pointer}/aql`), no, `${pointer}/aql`);
  });
}

/** What is found on items is judged by the AQL of its class, so there must be a sample and a limit; critical needs none. */
function onItemsFaults(no: Reasons, { code, class: of }: Characteristic, { sampling }: InspectionPlan, pointer: string): void {
  if (sampling === undefined) {
    no.conflict('sample-missing', `${code} is looked at on items: the plan takes no sample of them`, { pointer });
  } else if (of !== 'critical' && !sampling.classes.some((one) => one.class === of)) {
    no.conflict('class-without-aql', `${code} is ${of}, and the plan has no AQL to judge ${of} nonconformities by`, {
      pointer: `${pointer}/class`,
    });
  }
}

const WORSE: readonly SeverityClass[] = ['minor', 'major', 'critical'];

function defectFaults(no: Reasons, one: AttributeCharacteristic, { defects }: CatalogueState, pointer: string): void {
  if (one.defect === undefined) return;
  const defect = defects.get(one.defect);
  if (!defect) {
    no.unknown('defect-unknown', `no defect ${one.defect} on the plant's list`, { pointer: `${pointer}/defect` });
  } else if (WORSE.indexOf(one.class) < WORSE.indexOf(defect.severity)) {
    no.conflict('class-laxer', `${defect.code} is ${defect.severity}: it can be judged worse, not milder`, { pointer: `${pointer}/class` });
  }
}
