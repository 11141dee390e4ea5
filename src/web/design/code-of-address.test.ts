import { expect, it } from 'vitest';
import { codeOfAddress } from './code-of-address.js';

/** As the router hands on a part of an address: undone but for what would cut an address. */
const handedOn = (code: string): string => decodeURI(encodeURIComponent(code));

it.each(['U26-00090', 'R/1', 'R/1 %', '100 %', '50%41', 'a#b?c&d=e+f', 'Größe 4:5', '%'])('the code %s is itself again', (code) => {
  expect(codeOfAddress(handedOn(code))).toBe(code);
});
