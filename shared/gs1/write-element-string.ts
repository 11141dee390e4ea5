import { applicationIdentifier } from './application-identifiers.js';
import { valueFaults } from './check-value.js';
import { FNC1, type Gs1Element, type Gs1Fault } from './reading.js';

type Part = Pick<Gs1Element, 'ai' | 'value'>;

/** Elements that cannot be encoded; `faults` says why. */
export class Gs1WriteFault extends Error {
  override readonly name = 'Gs1WriteFault';

  constructor(readonly faults: readonly Gs1Fault[]) {
    super(faults.map(({ detail }) => detail).join('; '));
  }
}

/** Elements as a message, FNC1 only where a value without fixed length is followed by another element. What is in them is not checked. */
export function messageOf(elements: readonly Part[]): string {
  return elements
    .map(({ ai, value }, i) => {
      const open = applicationIdentifier(ai)?.fixedLength === null && i < elements.length - 1;
      return `${ai}${value}${open ? FNC1 : ''}`;
    })
    .join('');
}

/** Elements as they are printed for people: brackets around the identifiers, which are not encoded. */
export const printedForm = (elements: readonly Part[]): string => elements.map(({ ai, value }) => `(${ai})${value}`).join('');

/**
 * Elements as a message that can be encoded, those of fixed length first, so that separators are few.
 * @throws Gs1WriteFault when an identifier is not assigned or a value not one it may have
 */
export function writeElementString(elements: readonly Part[], thisYear: number): string {
  const faults = elements.flatMap(({ ai, value }): Gs1Fault[] => {
    const identifier = applicationIdentifier(ai);
    if (identifier !== undefined) return valueFaults(identifier, value, 0, thisYear);
    return [{ code: 'ai-unknown', detail: `(${ai}) is no Application Identifier`, at: 0 }];
  });
  if (faults.length > 0) throw new Gs1WriteFault(faults);
  return messageOf(fixedFirst(elements));
}

/** Elements in the order they are encoded in: those of fixed length first, otherwise as given. */
export function fixedFirst<One extends Part>(elements: readonly One[]): One[] {
  const isFixed = ({ ai }: One): boolean => applicationIdentifier(ai)?.fixedLength !== null;
  return [...elements.filter(isFixed), ...elements.filter((one) => !isFixed(one))];
}
