import { expect, it } from 'vitest';
import { TRIES, lockMinutes } from './lockout.store.js';
import { costOf, decoyHash, hashPassword, passwordFits } from './passwords.js';

it('opens with the password that made it and with no other (P-4)', async () => {
  const stored = await hashPassword('a long test password', 16);
  expect(await passwordFits('a long test password', stored)).toBe(true);
  expect(await passwordFits('a long test passwore', stored)).toBe(false);
  expect(await passwordFits('', stored)).toBe(false);
});

it('keeps the cost beside the hash and never the same salt twice (P-4)', async () => {
  const [one, two] = [await hashPassword('same', 16), await hashPassword('same', 32)];
  expect([costOf(one), costOf(two)]).toEqual([16, 32]);
  expect(one.split('$')[2]).not.toBe(two.split('$')[2]);
  expect(await passwordFits('same', two)).toBe(true);
});

it('fits nobody where there is nobody, and does the same work (P-10)', async () => {
  const decoy = decoyHash(16);
  expect(decoy.split('$').map((part) => part.length)).toEqual((await hashPassword('x', 16)).split('$').map((part) => part.length));
  expect(await passwordFits('x', decoy)).toBe(false);
});

it('takes an accent for the same however it was composed (P-4)', async () => {
  const stored = await hashPassword('caf\u00e9 long enough', 16);
  expect(await passwordFits('cafe\u0301 long enough', stored)).toBe(true);
});

it('works more than two at a time without losing one (P-4)', async () => {
  const stored = await hashPassword('x', 16);
  const answers = await Promise.all(Array.from({ length: 20 }, (_, i) => passwordFits(i % 2 ? 'x' : 'y', stored)));
  expect(answers.filter(Boolean)).toHaveLength(10);
});

it('locks for 1, 2, 4 … 60 minutes from the fifth wrong password on (P-10)', () => {
  expect(Array.from({ length: 13 }, (_, i) => lockMinutes(i))).toEqual([0, 0, 0, 0, 0, 1, 2, 4, 8, 16, 32, 60, 60]);
  expect(lockMinutes(TRIES + 5000)).toBe(60);
});
