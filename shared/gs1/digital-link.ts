import { type ApplicationIdentifier, applicationIdentifier } from './application-identifiers.js';
import { valueFaults } from './check-value.js';
import { alternativesOf } from './digital-link-path.js';
import type { Gs1Element, Gs1Fault, Gs1Reading } from './reading.js';

const URI = /^(?:https?|HTTPS?):\/\/([^/?#]*)([^?#]*)(\?[^#]*)?(?:#.*)?$/s;
const HOST = /^[-.0-9A-Za-z]+(?::\d+)?$|^\[[0-9A-Fa-f:.]+\](?::\d+)?$/;
const NOT_IN_URI = /[^-._~:/?#[\]@!$&'()*+,;=%0-9A-Za-z]|%(?![0-9A-Fa-f]{2})/;

/** Whether the text is a web address, which may be a Digital Link. */
export const isWebAddress = (text: string): boolean => /^(?:https?|HTTPS?):\/\//.test(text);

class LinkFault extends Error {
  constructor(
    readonly code: string,
    message: string,
    readonly at: number,
  ) {
    super(message);
  }
}

interface Pair {
  readonly name: string;
  readonly value: string;
  readonly at: number;
}

/**
 * Reads a GS1 Digital Link URI of any host: key and qualifiers in the path, the rest in the query. Deprecated forms (names such as
 * `/gtin/` for identifiers, GTINs without their leading zeros) are refused; names in the query that are no digits mean nothing to GS1.
 * @param thisYear the year from which two-digit years are counted
 * @param shift how many characters stood before the address, for the places of faults
 */
export function readDigitalLink(uri: string, thisYear: number, shift = 0): Gs1Reading {
  try {
    const { key, qualifiers, query } = cutUp(uri, shift);
    const pairs = [key, ...qualifiers, ...attributes(query, key, qualifiers)];
    const faults = pairs.flatMap(({ name, value, at }) => valueFaults(applicationIdentifier(name)!, value, at, thisYear));
    return { elements: pairs.map(({ name, value, at }): Gs1Element => ({ ai: name, value, at })), faults };
  } catch (error) {
    if (!(error instanceof LinkFault)) throw error;
    const fault: Gs1Fault = { code: error.code, detail: `${error.message}, at character ${error.at + 1}`, at: error.at };
    return { elements: [], faults: [fault] };
  }
}

function cutUp(uri: string, shift: number): { key: Pair; qualifiers: Pair[]; query: Pair[] } {
  const strange = uri.search(NOT_IN_URI);
  if (strange >= 0) throw new LinkFault('link-malformed', 'the address has a character that no address may have', shift + strange);
  const match = URI.exec(uri);
  const [, host = '', path = '', query = ''] = match ?? [];
  if (match === null || !HOST.test(host)) throw new LinkFault('link-malformed', 'this is no web address with a host', shift);
  const pathAt = uri.indexOf('//') + 2 + host.length;
  return { ...readPath(path, shift + pathAt), query: readQuery(query, shift + pathAt + path.length) };
}

/** The rightmost key with what follows it; what stands before it belongs to the host. */
function readPath(path: string, shift: number): { key: Pair; qualifiers: Pair[] } {
  const segments = path.split('/').slice(1);
  const places: number[] = [];
  let at = 1;
  for (const segment of segments) {
    places.push(at);
    at += segment.length + 1;
  }
  const qualifiers: Pair[] = [];
  for (let i = segments.length - 2; i >= 0; i -= 2) {
    const identifier = applicationIdentifier(segments[i] ?? '');
    if (identifier === undefined) break;
    const value = segments[i + 1] ?? '';
    const pair = {
      name: identifier.ai,
      value: decodeURIComponentOf(value, shift + (places[i + 1] ?? 0)),
      at: shift + (places[i + 1] ?? 0),
    };
    if (identifier.qualifiers === null) qualifiers.unshift(pair);
    else return { key: pair, qualifiers: allowed(pair, qualifiers) };
  }
  throw new LinkFault('link-names-nothing', 'the address names no item by a GS1 key', shift);
}

function allowed(key: Pair, qualifiers: Pair[]): Pair[] {
  const names = qualifiers.map(({ name }) => name);
  if (alternativesOf(key.name, names).length > 0) return qualifiers;
  throw new LinkFault('link-path-wrong', `(${names.join('), (')}) cannot follow (${key.name}) in that order`, qualifiers[0]?.at ?? key.at);
}

function readQuery(query: string, shift: number): Pair[] {
  const pairs: Pair[] = [];
  let at = shift + 1;
  for (const part of query.slice(1).split('&')) {
    const equals = part.indexOf('=');
    const name = equals < 0 ? part : part.slice(0, equals);
    const value = part.slice(name.length + 1);
    if (/^\d+$/.test(name)) {
      const from = at + name.length + 1;
      pairs.push({ name, value: decodeURIComponentOf(value.replaceAll('+', ' '), from), at: from });
    }
    at += part.length + 1;
  }
  return pairs;
}

function attributes(query: readonly Pair[], key: Pair, qualifiers: readonly Pair[]): readonly Pair[] {
  const seen = new Set([key.name, ...qualifiers.map(({ name }) => name)]);
  const names = qualifiers.map(({ name }) => name);
  const ofPath = new Set(alternativesOf(key.name, names).flat());
  for (const { name, at } of query) {
    const identifier: ApplicationIdentifier | undefined = applicationIdentifier(name);
    if (identifier === undefined) throw new LinkFault('ai-unknown', `(${name}) is no Application Identifier`, at);
    if (!identifier.inQuery) throw new LinkFault('link-query-wrong', `(${name}) cannot stand in the query of a link`, at);
    if (seen.has(name)) throw new LinkFault('repeated-differently', `(${name}) is given twice`, at);
    if (ofPath.has(name)) throw new LinkFault('link-query-wrong', `(${name}) belongs in the path behind (${key.name})`, at);
    seen.add(name);
  }
  return query;
}

function decodeURIComponentOf(text: string, at: number): string {
  try {
    return decodeURIComponent(text);
  } catch {
    throw new LinkFault('link-malformed', 'the address has signs (%) that stand for no text', at);
  }
}
