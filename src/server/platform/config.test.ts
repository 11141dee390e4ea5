import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../shared/refusal.js';
import { readConfig } from './config.js';

const wrong = (env: NodeJS.ProcessEnv): unknown[] => {
  try {
    readConfig(env);
  } catch (error) {
    return (error as Refusal).reasons.map((reason) => reason['setting']);
  }
  return [];
};

describe('what an installation sets', () => {
  it('is good when nothing is set', () => expect(wrong({})).toEqual([]));

  it('names everything that cannot be used at once', () => {
    const env = { PORT: 'http', KINLEDGER_REQUESTS_PER_MINUTE: '0', KINLEDGER_LARGEST_FILE_MB: '2.5', KINLEDGER_LOT_PATTERN: 'LOT' };
    expect(wrong(env)).toEqual(['PORT', 'KINLEDGER_REQUESTS_PER_MINUTE', 'KINLEDGER_LARGEST_FILE_MB', 'KINLEDGER_LOT_PATTERN']);
    expect(() => readConfig(env)).toThrow(Refusal);
  });

  it.each(['{class}{yy}-{n:5}', '{yyyy}{mm}/{n:3}', 'L{n:9}'])('takes the pattern %s', (pattern) =>
    expect(wrong({ KINLEDGER_LOT_PATTERN: pattern })).toEqual([]),
  );

  it('names a currency that is none, and takes those of ISO 4217', () => {
    expect(wrong({ KINLEDGER_CURRENCY: 'euro' })).toEqual(['KINLEDGER_CURRENCY']);
    expect([readConfig({}).currency, readConfig({ KINLEDGER_CURRENCY: 'CHF' }).currency]).toEqual(['EUR', 'CHF']);
  });

  it.each(['{class}{yy}', '{n:5}-{n:5}', '{n}', '{n:0}', '{n:12}', '{item}-{n:5}', ' {n:5}', `${'x'.repeat(64)}{n:5}`, '{n:5}\u0007'])(
    'refuses the pattern "%s"',
    (pattern) => expect(wrong({ KINLEDGER_LOT_PATTERN: pattern })).toEqual(['KINLEDGER_LOT_PATTERN']),
  );
});
