/**
 * Says which place a lot has in the answer being worked out. Starting over costs nothing: a mark counts only if it bears the
 * current epoch, so nothing is cleared between questions.
 */
export class LotMarks {
  #epochs = new Uint32Array(0);
  #places = new Int32Array(0);
  #epoch = 0;

  begin(lots: number): void {
    if (lots >= this.#epochs.length) {
      this.#epochs = new Uint32Array(lots + 1 + (lots >>> 3));
      this.#places = new Int32Array(this.#epochs.length);
      this.#epoch = 0;
    }
    this.#epoch++;
    if (this.#epoch > 0xffff_fffe) {
      this.#epochs.fill(0);
      this.#epoch = 1;
    }
  }

  /** The lot's place, or -1. */
  get(lot: number): number {
    return this.#epochs[lot] === this.#epoch ? (this.#places[lot] ?? -1) : -1;
  }

  set(lot: number, place: number): void {
    this.#epochs[lot] = this.#epoch;
    this.#places[lot] = place;
  }

  get byteLength(): number {
    return this.#epochs.byteLength * 2;
  }
}
