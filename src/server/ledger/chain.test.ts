import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../../shared/canonical-json.js';
import { sha256 } from './append.js';
import { entryFault } from './chain.js';
import { GENESIS } from './fact.js';
import type { StoredEntry } from './read.js';

/** The first entry of a ledger, with this much more in its fact. */
function entry(fact: object = {}, body?: (canonical: string) => string): StoredEntry {
  const columns = { seq: 1, at: '2026-03-02T08:00:00.000Z', actor: 'wren', kind: 'LotAdmired', v: 1 };
  const canonical = canonicalJson({ ...columns, prev: GENESIS, ...fact });
  const text = body ? body(canonical) : canonical;
  return { ...columns, body: text, hash: sha256(text) };
}

const what = (stored: StoredEntry): string | null => entryFault(stored, 1, GENESIS)?.what ?? null;

describe('an entry on its own (L-1, L-4)', () => {
  it('knows SHA-256: the example of FIPS 180-4, "abc"', () => {
    expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  it.each<[string, object]>([
    ['nothing more', {}],
    ['members that look like list indexes, in the order of their text', { sizes: { '10': 1, '9': 2, a: 3 } }],
    ['numbers as RFC 8785 writes them', { n: [0, -1, 1e21, 1e-7, 0.1, 4503599627370496] }],
    ['text of any script, and the characters JSON escapes', { note: 'Öl, "wax" \\ \u2028 \u0001 \ud83d\udeb2' }],
    ['names in the order of UTF-16 code units', { names: { '\ud83d\ude02': 1, '\ufb33': 2 } }],
    ['an empty name and nested lists', { '': [[], [{}], [{ b: [], c: null }]] }],
    ['a member named __proto__', JSON.parse('{"extra":{"__proto__":{"a":1}}}') as object],
  ])('is right with %s', (_name, fact) => expect(what(entry(fact))).toBeNull());

  it.each<[string, object, (canonical: string) => string]>([
    ['a blank between members', {}, (text) => text.replace(',', ', ')],
    ['a line feed at the end', {}, (text) => `${text}\n`],
    ['members in another order', {}, (text) => text.replace('"actor":"wren",', '').replace('}', ',"actor":"wren"}')],
    ['a member twice', { a: 1 }, (text) => text.replace('"a":1', '"a":1,"a":1')],
    ['members of a nested object in another order', { lot: { a: 1, b: 2 } }, (text) => text.replace('"a":1,"b":2', '"b":2,"a":1')],
    ['members in a list in another order', { lots: [{ a: 1, b: 2 }] }, (text) => text.replace('"a":1,"b":2', '"b":2,"a":1')],
    [
      'index-like members in the order of their numbers',
      { sizes: { '10': 1, '9': 2 } },
      (text) => text.replace('"10":1,"9":2', '"9":2,"10":1'),
    ],
    ['an escape that need not be', { note: 'wax' }, (text) => text.replace('wax', '\\u0077ax')],
    ['a slash escaped', { note: 'a/b' }, (text) => text.replace('a/b', 'a\\/b')],
    ['a number with a needless exponent', { n: 100 }, (text) => text.replace(':100', ':1e2')],
    ['a number with a needless zero', { n: 1.5 }, (text) => text.replace('1.5', '1.50')],
    ['minus zero', { n: 0 }, (text) => text.replace('"n":0', '"n":-0')],
    ['more digits than a number keeps', { n: 0.1 }, (text) => text.replace('0.1', '0.1000000000000000055')],
    ['half a surrogate pair', { note: 'x' }, (text) => text.replace('"x"', '"\\ud83d"')],
    ['a list instead of an object', {}, () => '[]'],
    ['no JSON', {}, (text) => text.slice(1)],
    ['nothing', {}, () => ''],
  ])('is not canonical with %s', (_name, fact, body) => expect(what(entry(fact, body))).toBe('not-canonical'));

  it('names the first thing wrong, in the order: number, hash, text, chain, columns', () => {
    const right = entry();
    expect(entryFault({ ...right, seq: 3 }, 1, GENESIS)).toMatchObject({ what: 'missing-entry', where: 'entry 1' });
    expect(entryFault(right, 2, GENESIS)).toMatchObject({ what: 'doubled-entry', where: 'entry 2' });
    expect(entryFault({ ...right, hash: GENESIS, actor: 'pell' }, 1, GENESIS)).toMatchObject({ what: 'changed-body' });
    expect(entryFault(right, 1, 'f'.repeat(64))).toMatchObject({ what: 'broken-chain' });
    expect(entryFault({ ...right, actor: 'pell' }, 1, GENESIS)).toMatchObject({
      what: 'column-differs',
      detail: 'its column "actor" says "pell", its text "wren"',
    });
    expect(entryFault({ ...right, v: '1' as never }, 1, GENESIS)).toMatchObject({ what: 'column-differs' });
  });
});
