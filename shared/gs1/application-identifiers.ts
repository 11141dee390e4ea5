import { DICTIONARY } from './dictionary.js';

/** An Application Identifier: what the digits before a value say it is. */
export interface ApplicationIdentifier {
  readonly ai: string;
  /** The short title GS1 prints beside the value. */
  readonly title: string;
  /** Form of the value, in the dictionary's notation: `N13,csum,gcppos1 [X..17]`. */
  readonly form: string;
  /** Length of the value where no separator follows it, else null. */
  readonly fixedLength: number | null;
  /** Whether it may stand in the query of a Digital Link. */
  readonly inQuery: boolean;
  /** All must hold; each is a list of alternatives, each a list of partners that stand together. */
  readonly requires: readonly (readonly (readonly string[])[])[];
  /** Patterns of partners that must not be there; `n` is any digit. */
  readonly excludes: readonly string[];
  /** Qualifiers that may follow it in the path of a Digital Link, by alternative; null when it is no key of one. */
  readonly qualifiers: readonly (readonly string[])[] | null;
}

const split = (text: string, by: string): string[] => (text === '' ? [] : text.split(by));

function readRow(row: string): ApplicationIdentifier[] {
  const [range = '', title = '', form = '', flags = '', requires = '', excludes = '', keys = ''] = row.split('|');
  const [first = '', last = first] = range.split('-');
  const length = /^N(\d+)/.exec(form);
  const rest = {
    title,
    form,
    fixedLength: flags.includes('f') ? Number(length?.[1]) : null,
    inQuery: flags.includes('d'),
    requires: split(requires, ';').map((entry) => entry.split(',').map((one) => one.split('+'))),
    excludes: split(excludes, ','),
    qualifiers: keys === '-' ? null : split(keys, '/').map((one) => one.split(',')),
  };
  const rows: ApplicationIdentifier[] = [];
  for (let ai = Number(first); ai <= Number(last); ai += 1) rows.push({ ai: `${ai}`.padStart(first.length, '0'), ...rest });
  return rows;
}

const KNOWN: ReadonlyMap<string, ApplicationIdentifier> = new Map(
  DICTIONARY.trim()
    .split('\n')
    .flatMap(readRow)
    .map((row) => [row.ai, row]),
);

/** All Application Identifiers, in the order of the dictionary. */
export const applicationIdentifiers = (): ApplicationIdentifier[] => [...KNOWN.values()];

/** The Application Identifier of these digits, if it is assigned. */
export const applicationIdentifier = (ai: string): ApplicationIdentifier | undefined => KNOWN.get(ai);

/** The Application Identifier that the text has at a place; none begins another, so there is at most one. */
export function identifierAt(text: string, at: number): ApplicationIdentifier | undefined {
  for (const length of [2, 3, 4]) {
    const found = KNOWN.get(text.slice(at, at + length));
    if (found !== undefined) return found;
  }
  return undefined;
}

/** Whether an Application Identifier is meant by a pattern such as `310n`. */
export function matchesPattern(ai: string, pattern: string): boolean {
  return ai.length === pattern.length && [...pattern].every((letter, i) => (letter === 'n' ? /\d/.test(ai[i] ?? '') : letter === ai[i]));
}
