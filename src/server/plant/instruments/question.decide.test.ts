import { describe, expect, it, test } from 'vitest';
import type { Refusal } from '../../../../shared/refusal.js';
import { decideAnswer, type QuestionState, standingOf } from './question.decide.js';

const inDoubt = { results: 5, lots: 2, time: { since: 'CAL-1', until: 'CAL-2', from: null, to: null } };
const state = (over: Partial<QuestionState> = {}): QuestionState => ({
  instrument: 'CALI-1',
  answeredSeq: null,
  droppedSeq: null,
  inDoubt,
  unseen: 5,
  ...over,
});
const signature = { by: 'wren', at: '2026-03-02T08:00:00.000Z', meaning: 'it still stands' };
const command = { calibration: 'CAL-2', conclusion: 'no-effect', reason: 'measured again' } as const;

describe('a question about an instrument (I-12)', () => {
  test.each([
    ['open', {}, 'open'],
    ['open, though nothing is in doubt', { unseen: 0 }, 'open'],
    ['answered', { answeredSeq: 20, unseen: 0 }, 'answered'],
    ['grown: a result that the answer did not see', { answeredSeq: 20, unseen: 1 }, 'grown'],
    ['dropped with its calibration (I-9)', { droppedSeq: 21 }, 'dropped'],
    ['answered for good, when its calibration was recorded in error (I-9)', { answeredSeq: 20, droppedSeq: 21, unseen: 1 }, 'answered'],
  ] as const)('%s', (_case, over, standing) => {
    expect(standingOf(state(over))).toBe(standing);
  });

  test.each([
    ['answered before', { answeredSeq: 20, unseen: 0 }, 'answered-before'],
    ['dropped', { droppedSeq: 21 }, 'question-dropped'],
  ] as const)('is not answered when %s', (_case, over, code) => {
    expect(() => decideAnswer(command, state(over), signature)).toThrow(
      expect.objectContaining({ reasons: [expect.objectContaining({ code })] }) as Refusal,
    );
  });

  it('is answered for what is in doubt at that moment, and again when it has grown', () => {
    const answered = { kind: 'InstrumentQuestionAnswered', instrument: 'CALI-1', lookedAt: inDoubt, signature };
    expect(decideAnswer(command, state(), signature)).toMatchObject(answered);
    expect(decideAnswer(command, state({ answeredSeq: 20, unseen: 1 }), signature)).toMatchObject(answered);
  });
});
