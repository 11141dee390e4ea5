import { expect, it } from 'vitest';
import { withPoint } from './decimal-comma.js';

it('takes a decimal comma where it can be nothing else', () => {
  expect(['12,5', ' 0,125 ', '-3,25', '1,0005', '7,123456'].map(withPoint)).toEqual(['12.5', '0.125', '-3.25', '1.0005', '7.123456']);
});

it('leaves alone what may be thousands, and what is no number', () => {
  const left = ['1,000', '12,500', '1,234,567', '1.234,5', '12.5', ',5', '5,', '1,1234567', 'a,b', ''];
  expect(left.map(withPoint)).toEqual(left);
});
