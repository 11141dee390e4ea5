import { because, signedBy } from '../telling/words.facts.js';
import type {
  AsFound,
  CalibrationResult,
  CalibrationVoided,
  Conclusion,
  InstrumentCalibrated,
  InstrumentQuestionAnswered,
  InstrumentQuestioned,
} from './instrument.facts.js';

const FOUND: Readonly<Record<AsFound, string>> = { 'in-tolerance': 'found in tolerance', 'out-of-tolerance': 'found out of tolerance' };

const LEFT: Readonly<Record<CalibrationResult, string>> = {
  'in-tolerance': 'left as it was',
  'adjusted-in-tolerance': 'adjusted into tolerance',
  failed: 'failed, not to be used',
};

const CONCLUDED: Readonly<Record<Conclusion, string>> = {
  'no-effect': 'all that it judged still stands',
  contained: 'what it judged is contained',
};

export const sayInstruments = {
  InstrumentCalibrated: (fact: InstrumentCalibrated): string => {
    const due = fact.dueOn === null ? '' : `; due again on ${fact.dueOn}`;
    return `Calibration ${fact.calibration} of ${fact.instrument} at ${fact.calibratedAt} by ${fact.calibratedBy}: ${FOUND[fact.asFound]}, ${LEFT[fact.result]}${due}`;
  },
  CalibrationVoided: (fact: CalibrationVoided): string =>
    `Calibration ${fact.calibration} of ${fact.instrument} was recorded in error${because(fact.reason)}`,
  InstrumentQuestioned: (fact: InstrumentQuestioned): string =>
    `What did ${fact.instrument} judge since it was last known good? Asked by calibration ${fact.calibration}`,
  InstrumentQuestionAnswered: (fact: InstrumentQuestionAnswered): string =>
    `What ${fact.instrument} judged before calibration ${fact.calibration} is looked at: ${CONCLUDED[fact.conclusion]}${because(fact.reason)}${signedBy(fact.signature)}`,
};
