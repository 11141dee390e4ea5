import { expect, test } from 'vitest';
import { withinLimits } from './limits.js';

test.each([
  [10, { lowerMicro: 10, upperMicro: 20 }, null],
  [20, { lowerMicro: 10, upperMicro: 20 }, null],
  [9, { lowerMicro: 10, upperMicro: 20 }, { limit: 'lower', limitMicro: 10, byMicro: 1 }],
  [23, { lowerMicro: 10, upperMicro: 20 }, { limit: 'upper', limitMicro: 20, byMicro: 3 }],
  [-5, { upperMicro: 0 }, null],
  [-5, { lowerMicro: 0 }, { limit: 'lower', limitMicro: 0, byMicro: 5 }],
  [5, {}, null],
])('%i against %o', (value, limits, broken) => {
  expect(withinLimits(value, limits)).toEqual({ within: broken === null, broken });
});
