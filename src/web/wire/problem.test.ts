import { describe, expect, it } from 'vitest';
import { localWritten } from '../app/clock.js';
import { problemOf } from './problem.js';

describe('what the server does not do, as it is shown', () => {
  it('tells instants in the time of whoever reads it, wherever they stand', () => {
    const detail = 'received at 2030-01-01T10:00:00.000Z, which is still to come, after 2029-12-31T23:00:00Z';
    const { reasons, ...whole } = problemOf({
      type: '',
      title: 'No',
      status: 409,
      detail,
      reasons: [{ code: 'not-yet', detail, pointer: '/at' }],
    });
    const expected = `received at ${localWritten('2030-01-01T10:00:00.000Z')}, which is still to come, after ${localWritten('2029-12-31T23:00:00Z')}`;
    expect(whole.detail).toBe(expected);
    expect(reasons).toEqual([{ code: 'not-yet', detail: expected, pointer: '/at' }]);
  });

  it('leaves days and other words as they are', () => {
    expect(problemOf({ type: '', title: 'No', status: 409, detail: 'due on 2026-05-28' }).detail).toBe('due on 2026-05-28');
  });
});
