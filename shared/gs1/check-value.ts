import type { ApplicationIdentifier } from './application-identifiers.js';
import { CSET_82 } from './check-pair.js';
import type { Gs1Fault } from './reading.js';
import { type RuleFault, VALUE_RULES, valueFault } from './value-rules.js';

interface Component {
  readonly set: keyof typeof SETS;
  readonly min: number;
  readonly max: number;
  readonly optional: boolean;
  readonly rules: readonly string[];
}

const escaped = CSET_82.replaceAll(/[\\\]^-]/g, String.raw`\$&`);
const SETS = {
  N: { other: /[^0-9]/, name: 'a digit' },
  X: { other: new RegExp(`[^${escaped}]`), name: 'one of the 82 characters GS1 allows' },
  Y: { other: /[^-#/0-9A-Z]/, name: 'one of the 39 characters GS1 allows here' },
  Z: { other: /[^-_=0-9A-Za-z]/, name: 'one of the 64 characters GS1 allows here' },
} as const;
const PART = /^(\[)?([NXYZ])(?:(\d+)|\.\.(\d+))\]?((?:,[a-z0-9]+)*)$/;

function readComponent(text: string): Component {
  const match = PART.exec(text);
  if (match === null) throw new Error(`the dictionary has a form that is not understood: ${text}`);
  const [, bracket, set, exact, most, rules = ''] = match;
  return {
    set: set as keyof typeof SETS,
    min: exact === undefined ? 1 : Number(exact),
    max: Number(exact ?? most),
    optional: bracket !== undefined,
    rules: rules.split(',').slice(1),
  };
}

const forms = new Map<string, readonly Component[]>();

function componentsOf(form: string): readonly Component[] {
  let known = forms.get(form);
  if (known === undefined) forms.set(form, (known = form.split(' ').map(readComponent)));
  return known;
}

/**
 * What is wrong with a value: its length, its characters, its check digits, dates and codes.
 * @param at where the value begins in the text as scanned
 * @param thisYear the year from which two-digit years are counted
 */
export function valueFaults(identifier: ApplicationIdentifier, value: string, at: number, thisYear: number): Gs1Fault[] {
  const { ai, title } = identifier;
  const faults: Gs1Fault[] = [];
  const add = ({ code, detail, from }: RuleFault, before = 0): void => {
    const place = at + before + from;
    faults.push({ code, detail: `(${ai}) ${title} ${detail}, at character ${place + 1}`, at: place, ai });
  };
  if (value === '') add(valueFault('value-missing', 'has no value'));
  let from = 0;
  for (const component of value === '' ? [] : componentsOf(identifier.form)) {
    const part = value.slice(from, from + component.max);
    if (part === '' && component.optional) break;
    const strange = part.search(SETS[component.set].other);
    if (strange >= 0) add(valueFault('bad-character', `has a character that is not ${SETS[component.set].name}`, from + strange));
    if (part.length < component.min) {
      add(
        valueFault(
          'value-too-short',
          `is too short: ${value.length} ${value.length === 1 ? 'character' : 'characters'}`,
          from + part.length,
        ),
      );
      return faults;
    }
    if (strange < 0) {
      for (const rule of component.rules) {
        const found = ruleOf(rule)(part, thisYear);
        if (found !== null) add(found, from);
      }
    }
    from += part.length;
  }
  if (from < value.length) {
    add(
      valueFault('value-too-long', `is too long: ${value.length} characters where ${from} are the most; a separator may be missing`, from),
    );
  }
  return faults;
}

function ruleOf(name: string): (typeof VALUE_RULES)[string] {
  const rule = VALUE_RULES[name];
  if (rule === undefined) throw new Error(`the dictionary has a rule that is not understood: ${name}`);
  return rule;
}
