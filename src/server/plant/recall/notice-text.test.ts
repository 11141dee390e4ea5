import { describe, expect, it } from 'vitest';
import { isUrgent, namesCode, noticeText } from './notice-text.facts.js';

describe('notices', () => {
  const text = { subject: 'Recall', product: 'F-1', hazard: 'h', stop: 's', action: 'a', passOn: null, replyTo: 'r' };
  it('RE-11: are urgent for class I and II only, and once', () => {
    expect((['I', 'II', 'III'] as const).map(isUrgent)).toEqual([true, true, false]);
    const first = (subject: string, one: 'I' | 'III', drill = false): string =>
      noticeText({ ...text, subject }, one, drill).split('\n')[0]!;
    expect([first('Recall', 'I'), first('URGENT recall', 'I'), first('Recall', 'III'), first('Recall', 'III', true)]).toEqual([
      'URGENT: Recall',
      'URGENT recall',
      'Recall',
      'DRILL, NOT TO BE SENT: Recall',
    ]);
  });
  it('RE-11: name a lot by its whole code', () => {
    expect(['lots F-1 and F-2', 'F-1', '(F-1)', 'F-1.', 'F-12', 'XF-1', 'F-1-2', 'f-1'].map((words) => namesCode(words, 'F-1'))).toEqual([
      true,
      true,
      true,
      true,
      false,
      false,
      false,
      false,
    ]);
  });
});
