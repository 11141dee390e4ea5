import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { httpDate, ResumedClock } from './clock.js';

describe('a clock that goes on from an instant', () => {
  beforeEach(() => void vi.useFakeTimers({ now: Date.parse('2031-01-01T00:00:00.000Z') }));
  afterEach(() => void vi.useRealTimers());

  it('begins there and goes on at the pace of the machine', () => {
    const clock = new ResumedClock('2026-05-28T10:15:00.250Z');
    expect(clock.now()).toBe('2026-05-28T10:15:00.250Z');
    vi.advanceTimersByTime(90_000);
    expect(clock.now()).toBe('2026-05-28T10:16:30.250Z');
  });

  it('is told to browsers in whole seconds, never later than it is', () => {
    expect(httpDate('2026-05-28T10:15:00.999Z')).toBe('Thu, 28 May 2026 10:15:00 GMT');
  });
});
