import { Reasons } from '../../../../shared/refusal.js';
import type { Signature } from '../people/signature.js';
import type { Conclusion, InstrumentQuestionAnswered, LookedAt } from './instrument.facts.js';

export interface AnswerQuestion {
  readonly calibration: string;
  readonly conclusion: Conclusion;
  readonly reason: string;
}

type QuestionStanding = 'open' | 'answered' | 'grown' | 'dropped';

/** A question about what an instrument has judged. */
export interface QuestionState {
  readonly instrument: string;
  readonly answeredSeq: number | null;
  /** Entry that says the calibration was recorded in error. */
  readonly droppedSeq: number | null;
  /** What is in doubt now. */
  readonly inDoubt: LookedAt;
  /** Results of it that nobody had seen when it was answered: recorded since, or come into doubt since. */
  readonly unseen: number;
}

/**
 * How a question stands. `grown`: answered, but there are results that the answer did not see; it waits for another.
 * @see docs/rules/instruments.md I-9, I-12
 */
export function standingOf({ answeredSeq, droppedSeq, unseen }: Omit<QuestionState, 'instrument' | 'inDoubt'>): QuestionStanding {
  if (answeredSeq === null) return droppedSeq === null ? 'open' : 'dropped';
  return droppedSeq === null && unseen > 0 ? 'grown' : 'answered';
}

/**
 * Answers what an instrument that is in doubt has judged.
 * @throws Refusal if the calibration opened no question, or it is answered for all there is, or fell away
 * @see docs/rules/instruments.md I-12
 */
export function decideAnswer(command: AnswerQuestion, state: QuestionState | undefined, signature: Signature): InstrumentQuestionAnswered {
  const no = new Reasons();
  const { calibration, conclusion, reason } = command;
  const standing = state && standingOf(state);
  if (!state) no.unknown('question-unknown', `calibration ${calibration} opened no question`, { calibration });
  if (standing === 'answered') {
    no.conflict('answered-before', `the question of ${calibration} was answered by entry ${state!.answeredSeq}`, { calibration });
  }
  if (standing === 'dropped') {
    no.conflict('question-dropped', `entry ${state!.droppedSeq} says that ${calibration} was recorded in error: nothing is asked`, {
      calibration,
    });
  }
  no.throwIfAny();
  const { instrument, inDoubt: lookedAt } = state!;
  return { kind: 'InstrumentQuestionAnswered', v: 1, calibration, instrument, conclusion, lookedAt, reason, signature };
}
