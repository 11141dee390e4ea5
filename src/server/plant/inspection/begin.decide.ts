import { Reasons } from '../../../../shared/refusal.js';
import { onWholeLot } from '../../../../shared/sampling/on-whole-lot.js';
import { sharedSample } from '../../../../shared/sampling/shared-sample.js';
import type { SwitchingState } from '../../../../shared/sampling/switching.js';
import type { Severity } from '../../../../shared/sampling/tables.js';
import type { Sampling } from '../catalogue/inspection-plan.facts.js';
import type { ClassPlan, InspectionBegun, SamplePlan } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';

/** Where the switching of each class of an item and supplier stands. */
export type SwitchingByClass = ReadonlyMap<'major' | 'minor', SwitchingState>;

/**
 * Begins an inspection: the severity in force now fixes what is taken and how it is judged, for this inspection once and for all.
 * @throws Refusal when it is not waiting, the lot size is not known, or inspection is discontinued
 * @see docs/rules/inspection.md IN-4 to IN-6
 */
export function decideBegin(
  command: { readonly lotSize?: number | undefined },
  { inspection, switching }: { readonly inspection: InspectionState; readonly switching: SwitchingByClass },
): InspectionBegun {
  const no = new Reasons();
  if (inspection.state !== 'waiting') {
    no.conflict('inspection-not-waiting', `${inspection.inspection} is ${inspection.state.replace('-', ' ')} already`, {
      inspection: inspection.inspection,
      state: inspection.state,
    });
    no.throwIfAny();
  }
  const { sampling } = inspection.plan;
  if (sampling === undefined) return begun(inspection, inspection.lotSize, null);
  if (command.lotSize !== undefined && inspection.lotSize !== null && command.lotSize !== inspection.lotSize) {
    no.conflict('lot-size-known', `${inspection.lot} has ${inspection.lotSize} items to inspect, not ${command.lotSize}`, {
      pointer: '/lotSize',
    });
  }
  const lotSize = inspection.lotSize ?? command.lotSize ?? null;
  if (lotSize === null) {
    no.conflict('lot-size-missing', `nothing says how many items (or containers) ${inspection.lot} consists of: give it`, {
      pointer: '/lotSize',
    });
  }
  checkDiscontinued(no, inspection, sampling, switching);
  no.throwIfAny();
  return begun(
    inspection,
    lotSize,
    samplePlan(sampling, lotSize!, (of) => severityFor(of, inspection, switching)),
  );
}

const begun = (inspection: InspectionState, lotSize: number | null, sample: SamplePlan | null): InspectionBegun => ({
  kind: 'InspectionBegun',
  v: 1,
  inspection: inspection.inspection,
  lotSize,
  sample,
});

function checkDiscontinued(no: Reasons, inspection: InspectionState, sampling: Sampling, switching: SwitchingByClass): void {
  for (const { class: of } of sampling.classes) {
    if (switching.get(of)?.severity !== 'discontinued') continue;
    const from = inspection.supplier === null ? 'made here' : `from ${inspection.supplier}`;
    no.conflict(
      'inspection-discontinued',
      `acceptance inspection of ${inspection.item} ${from} is discontinued for ${of} nonconformities: quality decides on resumption first`,
      { item: inspection.item, class: of },
    );
  }
}

/** A lot that is presented again, or was never in the switching, is not inspected more leniently than normal (clause 7.4 leaves it open). */
export function severityFor(of: 'major' | 'minor', { occasion }: Pick<InspectionState, 'occasion'>, switching: SwitchingByClass): Severity {
  const severity = switching.get(of)?.severity ?? 'normal';
  if (severity === 'discontinued') return 'tightened';
  return severity === 'reduced' && occasion !== 'delivery' && occasion !== 'run' ? 'normal' : severity;
}

/**
 * What is taken from a lot and how each class is judged, by the plan of an item.
 * @param severityOf severity in force for a class
 * @see docs/rules/inspection.md IN-5, IN-6
 */
export function samplePlan(sampling: Sampling, lotSize: number, severityOf: (of: 'major' | 'minor') => Severity): SamplePlan {
  const { level, type, basis, classes } = sampling;
  const shared = sharedSample({
    lotSize,
    level,
    type,
    classes: classes.map(({ class: of, aql }) => ({ aql, severity: severityOf(of) })),
  });
  const { edition, codeLetter, inspectAll, inspectAllBecause } = shared;
  const judged = shared.classes.map((one, i): ClassPlan => ({ class: classes[i]!.class, ...onWholeLot(one, inspectAll, lotSize) }));
  return {
    edition,
    level,
    type,
    basis,
    codeLetter,
    sizes: inspectAll ? [lotSize, null] : shared.sizes,
    inspectAllBecause,
    classes: judged,
  };
}
