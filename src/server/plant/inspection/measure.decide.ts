import { computeResult } from '../../../../shared/measuring/compute-result.js';
import type { Computed } from '../../../../shared/measuring/computed.js';
import { withinLimits } from '../../../../shared/measuring/limits.js';
import { MeasurementFault } from '../../../../shared/measuring/measurement-fault.js';
import { readRows, type TextRow } from '../../../../shared/measuring/method.js';
import { formatQuantity } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import type { MeasuredCharacteristic } from '../catalogue/inspection-plan.facts.js';
import { checkInstrument } from '../instruments/instrument-state.decide.js';
import type { InstrumentState } from '../instruments/instrument-state.facts.js';
import type { Measured } from './inspection.facts.js';

/** What was read of one characteristic, as decimal texts by column. */
export interface AskedMeasurement {
  readonly characteristic: string;
  readonly readings: readonly TextRow[];
  readonly instrument?: string | undefined;
}

export interface MeasuringState {
  /** Every instrument named, as it stood when it was used, with its kind. */
  readonly instruments: ReadonlyMap<string, InstrumentState & { readonly kind: string | null }>;
  /** Packages in the lot, for the reference test of net content. */
  readonly batchSize: number | null;
}

/**
 * Works out a measured characteristic and holds it against its limits. Adds to `no` whatever stands against taking it: readings that are
 * missing or not numbers, an instrument that is unknown, of another kind, or out of calibration.
 * @returns null when it cannot be worked out
 * @see docs/rules/inspection.md IN-17 to IN-19
 */
export function measure(
  no: Reasons,
  asked: AskedMeasurement,
  characteristic: MeasuredCharacteristic,
  state: MeasuringState,
  pointer: string,
): Measured | null {
  checkInstrumentOf(no, asked, characteristic, state, pointer);
  const computed = compute(no, asked, characteristic, state, `${pointer}/readings`);
  if (computed === null) return null;
  const unit = computed.unit ?? characteristic.unit;
  const fault = faultOf(computed, characteristic, unit);
  return {
    characteristic: characteristic.code,
    inputs: computed.inputs,
    valueMicro: computed.valueMicro,
    unit,
    within: fault === null,
    fault,
    figures: computed.figures,
    cautions: computed.cautions,
    instrument: asked.instrument ?? null,
    procedure: characteristic.procedure ?? null,
  };
}

function compute(
  no: Reasons,
  { readings }: AskedMeasurement,
  { compute: method, rounding, replicates }: MeasuredCharacteristic,
  { batchSize }: MeasuringState,
  pointer: string,
): Computed | null {
  const { rows, faults } = readRows(method, readings);
  for (const fault of faults) no.malformed('reading-wrong', fault.message, { pointer: `${pointer}${fault.at}` });
  if (faults.length > 0) return null;
  try {
    return computeResult(method, rows, { rounding, replicates, batchSize: batchSize ?? undefined });
  } catch (error) {
    if (!(error instanceof MeasurementFault) && !(error instanceof RangeError)) throw error;
    no.malformed('reading-wrong', error.message, { pointer: `${pointer}${error instanceof MeasurementFault ? error.at : ''}` });
    return null;
  }
}

function checkInstrumentOf(
  no: Reasons,
  { instrument }: AskedMeasurement,
  { name, instrumentKind, instrumentRequired }: MeasuredCharacteristic,
  { instruments }: MeasuringState,
  pointer: string,
): void {
  const at = `${pointer}/instrument`;
  if (instrument === undefined) {
    if (instrumentRequired) no.malformed('instrument-missing', `${name} names the instrument it was measured with`, { pointer: at });
    return;
  }
  const state = instruments.get(instrument);
  if (!state) throw new Error(`${instrument} was not looked up`);
  checkInstrument(no, state, at);
  if (state.known && instrumentKind !== undefined && state.kind !== instrumentKind) {
    no.conflict('instrument-of-other-kind', `${name} is measured with a ${instrumentKind}; ${instrument} is a ${state.kind}`, {
      pointer: at,
      instrument,
    });
  }
}

/** Why a value does not pass, in words; null when it does. */
function faultOf({ valueMicro, verdict }: Computed, characteristic: MeasuredCharacteristic, unit: string): string | null {
  const faults = (verdict?.reasons ?? []).filter((reason) => !reason.kept).map((reason) => reason.words);
  const { broken } = withinLimits(valueMicro, characteristic);
  if (broken !== null) {
    const side = broken.limit === 'lower' ? 'below' : 'above';
    const [value, by, limit] = [valueMicro, broken.byMicro, broken.limitMicro].map((micro) => formatQuantity(micro));
    faults.push(`${value} ${unit} is ${by} ${unit} ${side} the limit of ${limit} ${unit}`);
  }
  return faults.length === 0 ? null : faults.join('; ');
}
