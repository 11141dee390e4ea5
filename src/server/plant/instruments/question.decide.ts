import { Reasons } from '../../../../shared/refusal.js';
import type { Signature } from '../people/signature.js';
import type { Conclusion, InstrumentQuestionAnswered } from './instrument.facts.js';

export interface AnswerQuestion {
  readonly calibration: string;
  readonly conclusion: Conclusion;
  readonly reason: string;
}

/** A question about what an instrument has judged. */
export interface QuestionState {
  readonly instrument: string;
  readonly answeredSeq: number | null;
  /** Entry that says the calibration was recorded in error. */
  readonly droppedSeq: number | null;
}

/**
 * Answers what an instrument found out of tolerance has judged.
 * @throws Refusal if the calibration opened no question, or it is answered or fell away
 * @see docs/rules/instruments.md I-12
 */
export function decideAnswer(command: AnswerQuestion, state: QuestionState | undefined, signature: Signature): InstrumentQuestionAnswered {
  const no = new Reasons();
  const { calibration, conclusion, reason } = command;
  if (!state) no.unknown('question-unknown', `calibration ${calibration} opened no question`, { calibration });
  else if (state.answeredSeq !== null) {
    no.conflict('answered-before', `the question of ${calibration} was answered by entry ${state.answeredSeq}`, { calibration });
  } else if (state.droppedSeq !== null) {
    no.conflict('question-dropped', `entry ${state.droppedSeq} says that ${calibration} was recorded in error: nothing is asked`, {
      calibration,
    });
  }
  no.throwIfAny();
  return { kind: 'InstrumentQuestionAnswered', v: 1, calibration, instrument: state!.instrument, conclusion, reason, signature };
}
