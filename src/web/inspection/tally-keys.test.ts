import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CONFORMING_KEY, findingOfKey, keyOfFinding, SAME_ITEM_KEY, singlePresses, UNDO_KEY } from './tally-keys.js';

describe('keys while inspecting', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it('give each finding a key of its own, and none that is taken', () => {
    const keys = Array.from({ length: 40 }, (_, place) => keyOfFinding(place)).filter((key) => key !== null);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).not.toContain(CONFORMING_KEY);
    expect(keys).not.toContain(UNDO_KEY);
    expect(keys).not.toContain(SAME_ITEM_KEY);
    expect(keys.map((key) => findingOfKey(key, 40))).toEqual(keys.map((_, place) => place));
    expect(findingOfKey('3', 2)).toBeNull();
    expect(findingOfKey('Enter', 40)).toBeNull();
  });

  it('are heard when a person presses them, and not when a scanner types', () => {
    const pressed: string[] = [];
    const { hear } = singlePresses((key) => pressed.push(key));
    hear('c', 1000);
    vi.advanceTimersByTime(200);
    for (const [i, key] of [...'P26-00'].entries()) {
      hear(key, 1200 + 8 * i);
      vi.advanceTimersByTime(8);
    }
    vi.advanceTimersByTime(300);
    hear('1', 2000);
    vi.advanceTimersByTime(200);
    expect(pressed).toEqual(['c', '1']);
  });
});
