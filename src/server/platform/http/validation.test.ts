import type { BadRequestException } from '@nestjs/common';
import { Type } from 'class-transformer';
import { IsInt, IsOptional, ValidateNested } from 'class-validator';
import { describe, expect, it } from 'vitest';
import { nullIsLeftOut, validation } from './validation.js';

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

class Inner {
  @IsInt()
  n: number;

  @IsOptional()
  @ValidateNested()
  @Type(() => Inner)
  within?: Inner;
}
class Outer {
  @IsOptional()
  @ValidateNested()
  @Type(() => Inner)
  one?: Inner;

  @IsOptional()
  @ValidateNested({ each: true })
  @Type(() => Inner)
  many?: Inner[];
}

describe('a list where one object is due', () => {
  const faults = async (body: object): Promise<string[]> => {
    try {
      await validation().transform(body, { type: 'body', metatype: Outer });
      return [];
    } catch (error) {
      const { reasons } = (error as BadRequestException).getResponse() as { reasons: { pointer: string; detail: string }[] };
      return reasons.map(({ pointer, detail }) => `${pointer} ${detail}`);
    }
  };

  it.each<[object, string[]]>([
    [{ one: [] }, ['/one']],
    [{ one: [{ n: 1 }] }, ['/one']],
    [{ one: { n: 1, within: [] } }, ['/one/within']],
    [{ many: [{ n: 1 }, [], [{ n: 1 }]] }, ['/many/1', '/many/2']],
    [{ many: [{ n: 1, within: { n: 2, within: [{ n: 3 }] } }] }, ['/many/0/within/within']],
  ])('is refused, wherever it is: %j', async (body, pointers) =>
    expect(await faults(body)).toEqual(pointers.map((pointer) => `${pointer} must be one object, not a list`)),
  );

  it('is found beside other faults', async () =>
    expect(await faults({ one: { n: 'x' }, many: [[]] })).toEqual([
      '/one/n n must be an integer number',
      '/many/0 must be one object, not a list',
    ]));

  it.each<object>([{}, { one: { n: 1 } }, { many: [] }, { one: { n: 1, within: { n: 2 } }, many: [{ n: 1 }] }])(
    'is not in %j',
    async (body) => expect(await faults(body)).toEqual([]),
  );
});
