import { writtenDate, writtenInstant } from '../../../../shared/written.js';
import { because, counted, signedBy } from '../telling/words.facts.js';
import type { CalibrationVoided, InstrumentCalibrated, InstrumentQuestionAnswered, InstrumentQuestioned } from './instrument.facts.js';

const LEFT: Readonly<Record<InstrumentCalibrated['result'], string>> = {
  'in-tolerance': 'left in tolerance',
  'adjusted-in-tolerance': 'adjusted and left in tolerance',
  failed: 'not brought into tolerance',
};

export const sayInstruments = {
  InstrumentCalibrated: (fact: InstrumentCalibrated): string => {
    const due = fact.dueOn === null ? 'it may not be used' : `due again on ${writtenDate(fact.dueOn)}`;
    const found = fact.asFound === 'in-tolerance' ? 'in tolerance' : 'out of tolerance';
    return `Instrument ${fact.instrument} calibrated by ${fact.calibratedBy} on ${writtenInstant(fact.calibratedAt)} (${fact.calibration}): found ${found}, ${LEFT[fact.result]}; ${due}${because(fact.note)}`;
  },
  CalibrationVoided: (fact: CalibrationVoided): string =>
    `Calibration ${fact.calibration} of ${fact.instrument}, entry ${fact.corrects}, was recorded in error and counts no more${because(fact.reason)}`,
  InstrumentQuestioned: (fact: InstrumentQuestioned): string =>
    `${fact.calibration} puts ${fact.instrument} in doubt: what has it judged since it was last known good?`,
  InstrumentQuestionAnswered: (fact: InstrumentQuestionAnswered): string => {
    const stands = fact.conclusion === 'no-effect' ? 'what it judged still stands' : 'what it judged is contained';
    return `What ${fact.instrument} judged before ${fact.calibration}, ${counted(fact.lookedAt.results, 'result')} on ${counted(fact.lookedAt.lots, 'lot')}, was looked at: ${stands}${because(fact.reason)}${signedBy(fact.signature)}`;
  },
};
