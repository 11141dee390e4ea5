/** What was typed, or undefined where nothing was: left out of what is sent. */
export const given = (text: string): string | undefined => text.trim() || undefined;

/**
 * What was typed into a form, by field name. Names are JSON pointers into the body that is sent, so that a reason of the server finds
 * its field. Text is trimmed at both ends: a scanner or a paste adds blanks that no code has.
 */
export class FormValues {
  constructor(private readonly data: FormData) {}

  /** The text of a field, '' when it is empty. */
  text(name: string): string {
    const value = this.data.get(name);
    return typeof value === 'string' ? value.trim() : '';
  }

  /** A password: blanks at its ends count. */
  password(name: string): string {
    const value = this.data.get(name);
    return typeof value === 'string' ? value : '';
  }

  /** The text of a field, or undefined when it is empty: left out of what is sent. */
  maybe(name: string): string | undefined {
    return given(this.text(name));
  }

  /** One of the values a choice offers. */
  choice<Value extends string>(name: string): Value {
    return this.text(name) as Value;
  }

  /** The whole number in a field, or undefined when it is empty. */
  whole(name: string): number | undefined {
    const text = this.maybe(name);
    return text === undefined ? undefined : Number(text);
  }

  /** Whether a box is ticked. */
  on(name: string): boolean {
    return this.data.get(name) !== null;
  }

  /** Every value ticked or chosen under a name. */
  all<Value extends string>(name: string): Value[] {
    return this.data.getAll(name).filter((value): value is Value => typeof value === 'string' && value !== '');
  }

  /** Codes typed with commas or blanks or line ends between them. */
  codes(name: string): string[] {
    return this.text(name)
      .split(/[\s,;]+/u)
      .filter((code) => code !== '');
  }

  /** Chosen files. */
  files(name: string): File[] {
    return this.data.getAll(name).filter((value): value is File => value instanceof File && value.size > 0);
  }
}
