/** Texts numbered 0, 1, 2 … in the order they were first named, so that a million rows hold numbers and not texts. */
export class Names {
  readonly #ids = new Map<string, number>();
  readonly #texts: string[] = [];

  get count(): number {
    return this.#texts.length;
  }

  idOf(text: string): number | undefined {
    return this.#ids.get(text);
  }

  /** The number of the text, a new one if it was not named before. */
  name(text: string): number {
    const known = this.#ids.get(text);
    if (known !== undefined) return known;
    const id = this.#texts.length;
    this.#ids.set(text, id);
    this.#texts.push(text);
    return id;
  }

  text(id: number): string {
    const text = this.#texts[id];
    if (text === undefined) throw new Error(`no text has the number ${id}`);
    return text;
  }
}
