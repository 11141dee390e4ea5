import { Reasons } from '../../../../shared/refusal.js';
import type { MeasuredCharacteristic } from '../catalogue/inspection-plan.facts.js';
import { checkFiles } from '../files/files.decide.js';
import type { ResultRecorded } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { type AskedMeasurement, type MeasuringState, measure } from './measure.decide.js';
import { checkOpen } from './tally.decide.js';

interface RecordResult extends AskedMeasurement {
  readonly measuredAt: string;
  /** The result it follows: the first one stays. */
  readonly retestOf?: number | undefined;
  readonly reason?: string | undefined;
  readonly files: readonly string[];
}

interface ResultState extends MeasuringState {
  readonly inspection: InspectionState;
  readonly knownFiles: ReadonlySet<string>;
  readonly at: string;
  /** When the lot came into being: nothing is measured on it before. */
  readonly bornAt: string;
}

/**
 * Records a test of the lot as a whole. A second one of the same characteristic is a retest: it names the result it follows and says why.
 * @throws Refusal with every fault
 * @see docs/rules/inspection.md IN-17 to IN-20
 */
export function decideResult(command: RecordResult, state: ResultState): ResultRecorded {
  const no = new Reasons();
  const { inspection } = state;
  checkOpen(no, inspection);
  if (command.measuredAt > state.at) {
    no.conflict('not-yet', `measured at ${command.measuredAt}, which is still to come`, { pointer: '/measuredAt' });
  }
  if (command.measuredAt < state.bornAt) {
    no.conflict('measured-before-lot', `measured at ${command.measuredAt}, before ${inspection.lot} was there at ${state.bornAt}`, {
      pointer: '/measuredAt',
    });
  }
  const characteristic = inspection.plan.characteristics.find(
    (one): one is MeasuredCharacteristic => one.code === command.characteristic && one.kind === 'measured' && one.per === 'lot',
  );
  if (!characteristic) {
    no.unknown('characteristic-unknown', `the plan tests no ${command.characteristic} of the lot`, { pointer: '/characteristic' });
  }
  checkRetest(no, command, inspection);
  checkFiles(no, command.files, state.knownFiles, '/files');
  const measured = characteristic ? measure(no, command, characteristic, state, '') : null;
  no.throwIfAny();
  return {
    kind: 'ResultRecorded',
    v: 1,
    inspection: inspection.inspection,
    result: inspection.resultsEver + 1,
    lot: inspection.lot,
    measured: measured!,
    measuredAt: command.measuredAt,
    retestOf: command.retestOf ?? null,
    reason: command.reason ?? null,
    files: command.files,
  };
}

/** The first result is not overwritten: what follows it says so, and why. */
function checkRetest(no: Reasons, { characteristic, retestOf, reason }: RecordResult, inspection: InspectionState): void {
  const standing = inspection.results.find((one) => one.measured.characteristic === characteristic);
  if (retestOf === undefined) {
    if (standing) {
      no.conflict('result-exists', `${characteristic} has result ${standing.result}: a retest names it and says why`, {
        pointer: '/retestOf',
        result: standing.result,
      });
    }
    return;
  }
  if (standing?.result !== retestOf) {
    no.conflict('not-the-result', `result ${retestOf} is not the standing result of ${characteristic}`, { pointer: '/retestOf' });
  }
  if (reason === undefined) no.malformed('reason-missing', 'say why it is tested again', { pointer: '/reason' });
}
