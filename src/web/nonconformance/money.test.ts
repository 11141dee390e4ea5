import { expect, it } from 'vitest';
import { minorOf } from './money.js';

it('reads an amount as whole minor units, and nothing finer', () => {
  expect([minorOf('12.50', 2), minorOf(' -3 ', 2), minorOf('120', 0), minorOf('0.001', 3)]).toEqual([1250, -300, 120, 1]);
  expect([minorOf('12.505', 2), minorOf('1.5', 0), minorOf('twelve', 2), minorOf('', 2), minorOf('1,50', 2)]).toEqual([
    null,
    null,
    null,
    null,
    null,
  ]);
});
