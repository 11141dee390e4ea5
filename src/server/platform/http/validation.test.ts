import { describe, expect, it } from 'vitest';
import { nullIsLeftOut } from './validation.js';

const read = (value: unknown, type: 'body' | 'query' = 'body'): unknown => nullIsLeftOut.transform(value, { type });

describe('null in a body', () => {
  it('is a member that was left out, however deep', () => {
    expect(read({ a: null, b: { c: null, d: 0 }, e: [{ f: null, g: '' }], h: false })).toEqual({ b: { d: 0 }, e: [{ g: '' }], h: false });
    expect(Object.keys(read({ a: null }) as object)).toEqual([]);
  });

  it('stays where it is no member: the check of the shape refuses it', () => {
    expect(read(null)).toBeNull();
    expect(read({ lines: [null, 1] })).toEqual({ lines: [null, 1] });
    expect(read({ a: null }, 'query')).toEqual({ a: null });
  });

  it('does not go down without end', () => {
    let deep: unknown = null;
    for (let i = 0; i < 100_000; i++) deep = [deep];
    expect(Array.isArray(read(deep))).toBe(true);
  });
});
