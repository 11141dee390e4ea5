import canonicalize from 'canonicalize';

/** Refuses what JSON cannot say and `canonicalize` would drop, turn to null, or write as the bare word undefined. */
function refuseUnsayable(value: unknown, path: string): void {
  if (typeof value === 'function' || typeof value === 'symbol') throw new TypeError(`${path} is a ${typeof value}, which JSON cannot say`);
  if (value === null || typeof value !== 'object') return;
  if (Array.isArray(value)) {
    for (let i = 0; i < value.length; i += 1) {
      if (value[i] === undefined) throw new TypeError(`${path}[${i}] is undefined, which JSON cannot say`);
      refuseUnsayable(value[i], `${path}[${i}]`);
    }
    return;
  }
  for (const [key, member] of Object.entries(value)) refuseUnsayable(member, `${path}.${key}`);
}

/**
 * The one text of a JSON value: RFC 8785, members sorted by UTF-16 code units, no blanks. Members that are undefined are left out.
 * Because entries are hashed over this text, nothing in it may depend on how the value was built.
 * @throws TypeError or Error on undefined at the top or in a list, functions, symbols, bigint, NaN, infinities, lone surrogates and circles
 */
export function canonicalJson(value: unknown): string {
  const text = canonicalize(value); // first, because it is what notices circles
  if (text === undefined) throw new TypeError('undefined has no JSON text');
  refuseUnsayable(value, '$');
  return text;
}
