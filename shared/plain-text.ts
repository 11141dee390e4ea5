/** The longest code, in UTF-16 code units; every column that holds a code is that wide. */
export const MAX_CODE_LENGTH = 64;

/** Characters that change nothing to the eye but make two codes differ: format characters and the two odd line ends. */
const INVISIBLE = /[\p{Cf}\p{Zl}\p{Zp}]/u;
/** With the u flag a proper pair is one character, so only a half matches; a half cannot be stored or hashed. */
const LONE_SURROGATE = /\p{Cs}/u;
const CONTROL = /\p{Cc}/u;
const CONTROL_BUT_LAYOUT = /(?![\t\n\r])\p{Cc}/u;

function named(character: string): string {
  return `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
}

function found(text: string, kind: RegExp, what: string): string | null {
  const match = kind.exec(text);
  return match === null ? null : `has ${what} (${named(match[0])}) at character ${match.index + 1}`;
}

/**
 * What is wrong with a code that was typed or scanned, or null when it can be kept. A code is text: case, leading zeros and
 * punctuation count, so nothing is trimmed or folded here, only refused.
 */
export function codeFault(text: string): string | null {
  if (text.length === 0) return 'is empty';
  if (text.length > MAX_CODE_LENGTH) return `is longer than ${MAX_CODE_LENGTH} characters`;
  if (LONE_SURROGATE.test(text)) return 'has half of a character (a lone surrogate)';
  return (
    found(text, CONTROL, 'a control character') ??
    found(text, INVISIBLE, 'an invisible character') ??
    (text === text.trim() ? null : 'begins or ends with a blank')
  );
}

/**
 * What is wrong with free text such as a reason or a note, or null when it can be kept. Line ends and tabs are welcome; text that is
 * blank is refused, since a note nobody wrote is absent, not empty.
 * @param max the longest text, in UTF-16 code units
 */
export function textFault(text: string, max: number): string | null {
  if (text.trim() === '') return 'is empty';
  if (text.length > max) return `is longer than ${max} characters`;
  if (LONE_SURROGATE.test(text)) return 'has half of a character (a lone surrogate)';
  return found(text, CONTROL_BUT_LAYOUT, 'a control character');
}
