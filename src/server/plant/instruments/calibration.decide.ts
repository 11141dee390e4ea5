import { formatQuantity } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { addDays } from '../../../../shared/time.js';
import type { Instrument, Revised } from '../catalogue/catalogue.facts.js';
import { raisesDoubt } from './known-good.decide.js';
import type {
  AsFound,
  CalibrationResult,
  CalibrationVoided,
  InstrumentCalibrated,
  InstrumentQuestioned,
  Reading,
} from './instrument.facts.js';

export interface CalibrateInstrument {
  readonly instrument: string;
  readonly calibratedAt: string;
  readonly asFound: AsFound;
  readonly result: CalibrationResult;
  /** Earlier than the interval says; absent: as it says. */
  readonly dueOn?: string | undefined;
  readonly calibratedBy: string;
  readonly certificateFile?: string | undefined;
  readonly note?: string | undefined;
  readonly readings?: readonly Omit<Reading, 'pass'>[] | undefined;
}

/** What recording a calibration rests on. */
export interface CalibrationState {
  readonly at: string;
  /** A free number. */
  readonly calibration: string;
  readonly instrument: Revised<Instrument> | undefined;
  /** A calibration of this instrument at the same moment that stands. */
  readonly sameMoment: string | null;
  /** Whether the certificate is stored; true where none is named. */
  readonly certificateStored: boolean;
}

/**
 * Records a calibration; one that found the instrument out of tolerance, or left it so, also opens the question what it has judged.
 * @throws Refusal with every reason: what was found contradicts the readings or the result, or the due day is later than the interval says
 * @see docs/rules/instruments.md I-4 to I-8
 */
export function decideCalibration(
  command: CalibrateInstrument,
  state: CalibrationState,
): readonly [InstrumentCalibrated, ...InstrumentQuestioned[]] {
  const no = new Reasons();
  const { instrument, calibratedAt, result } = command;
  const { calibration } = state;
  if (!state.instrument) no.unknown('instrument-unknown', `no instrument ${instrument}`, { instrument });
  if (calibratedAt > state.at)
    no.conflict('not-yet', `calibrated at ${calibratedAt}, which is still to come`, { pointer: '/calibratedAt' });
  if (state.sameMoment !== null) {
    no.conflict('calibration-recorded', `${instrument} was calibrated at ${calibratedAt} by ${state.sameMoment} already`, {
      pointer: '/calibratedAt',
      calibration: state.sameMoment,
    });
  }
  const readings = command.readings?.map((reading): Reading => ({ ...reading, pass: passes(reading) }));
  checkFindings(no, command, readings ?? []);
  if (state.instrument) checkDue(no, command, state.instrument);
  if (!state.certificateStored) {
    no.unknown('file-unknown', `no stored file ${command.certificateFile}: send it first`, { pointer: '/certificateFile' });
  }
  no.throwIfAny();
  const calibrated: InstrumentCalibrated = {
    kind: 'InstrumentCalibrated',
    v: 1,
    ...command,
    calibration,
    dueOn: result === 'failed' ? null : (command.dueOn ?? dueBy(state.instrument!, calibratedAt)),
    readings,
  };
  if (!raisesDoubt(command)) return [calibrated];
  return [calibrated, { kind: 'InstrumentQuestioned', v: 1, calibration, instrument }];
}

const passes = ({ nominalMicro, foundMicro, toleranceMicro }: Omit<Reading, 'pass'>): boolean =>
  Math.abs(foundMicro - nominalMicro) <= toleranceMicro;

/** The day the interval of the register leads to. */
const dueBy = ({ intervalDays }: Instrument, calibratedAt: string): string => addDays(calibratedAt.slice(0, 10), intervalDays);

/** A person may be stricter than the readings, never laxer; and what was found out of tolerance is in tolerance only once adjusted. */
function checkFindings(no: Reasons, { asFound, result }: CalibrateInstrument, readings: readonly Reading[]): void {
  if (asFound === 'out-of-tolerance' && result === 'in-tolerance') {
    no.conflict('not-adjusted', 'what was found out of tolerance is in tolerance again only when it was adjusted', { pointer: '/result' });
  }
  readings.forEach(({ nominalMicro, foundMicro, toleranceMicro, pass }, i) => {
    if (toleranceMicro < 0)
      no.malformed('tolerance-negative', 'a tolerance is not less than nothing', { pointer: `/readings/${i}/tolerance` });
    else if (!pass && asFound === 'in-tolerance') {
      const [nominal, found, tolerance] = [nominalMicro, foundMicro, toleranceMicro].map((micro) => formatQuantity(micro));
      no.conflict('reading-outside', `${found} is more than ${tolerance} away from ${nominal}: it was found out of tolerance`, {
        pointer: `/readings/${i}`,
      });
    }
  });
}

function checkDue(no: Reasons, { dueOn, result, calibratedAt }: CalibrateInstrument, instrument: Instrument): void {
  if (dueOn === undefined) return;
  const pointer = '/dueOn';
  if (result === 'failed') {
    no.conflict('no-due-day', 'an instrument that failed may not be used until it passes: it has no due day', { pointer });
    return;
  }
  const latest = dueBy(instrument, calibratedAt);
  if (dueOn > latest) {
    no.conflict(
      'due-too-late',
      `${instrument.code} is calibrated every ${instrument.intervalDays} days: it is due on ${latest} or earlier`,
      {
        pointer,
        latest,
      },
    );
  }
  if (dueOn < calibratedAt.slice(0, 10)) no.conflict('due-before', `due on ${dueOn}, before it was calibrated`, { pointer });
}

/** A calibration that somebody says was recorded in error. */
export interface StandingCalibration {
  readonly calibration: string;
  readonly instrument: string;
  readonly recordedSeq: number;
  readonly voidedSeq: number | null;
}

/**
 * Takes a calibration out of the count: the instrument stands as if it had not been made, also for the time since.
 * @throws Refusal if there is none of that number, or it was put right before
 * @see docs/rules/instruments.md I-9
 */
export function decideVoid(
  command: { readonly calibration: string; readonly reason: string },
  state: StandingCalibration | undefined,
): CalibrationVoided {
  const no = new Reasons();
  const { calibration, reason } = command;
  if (!state) no.unknown('calibration-unknown', `no calibration ${calibration}`, { calibration });
  else if (state.voidedSeq !== null) {
    no.conflict('corrected-before', `${calibration} was put right by entry ${state.voidedSeq}`, { calibration, seq: state.voidedSeq });
  }
  no.throwIfAny();
  return { kind: 'CalibrationVoided', v: 1, calibration, instrument: state!.instrument, corrects: state!.recordedSeq, reason };
}
