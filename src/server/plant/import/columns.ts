import type { Breath } from './breath.js';

const FIRST_ROOM = 1024;

/** Whole numbers below 2^31 in a row that grows: four bytes a value. */
export class Int32List {
  #values = new Int32Array(FIRST_ROOM);
  #count = 0;

  get count(): number {
    return this.#count;
  }

  push(value: number): void {
    if (this.#count === this.#values.length) {
      const wider = new Int32Array(this.#count * 2);
      wider.set(this.#values);
      this.#values = wider;
    }
    this.#values[this.#count++] = value;
  }

  at(index: number): number {
    return this.#values[index] as number;
  }

  set(index: number, value: number): void {
    this.#values[index] = value;
  }
}

/** Quantities in millionths, kept exactly up to 2^53, in a row that grows. */
export class Float64List {
  #values = new Float64Array(FIRST_ROOM);
  #count = 0;

  push(value: number): void {
    if (this.#count === this.#values.length) {
      const wider = new Float64Array(this.#count * 2);
      wider.set(this.#values);
      this.#values = wider;
    }
    this.#values[this.#count++] = value;
  }

  at(index: number): number {
    return this.#values[index] as number;
  }

  set(index: number, value: number): void {
    this.#values[index] = value;
  }
}

/** Rows ordered by a key, rows of one key in their own order: where each key's rows begin, and the rows. */
export interface Grouped {
  readonly starts: Int32Array;
  readonly rows: Int32Array;
}

/** Groups rows 0..count-1 by `keyOf`, a number below `keys`, or a negative one for rows to leave out. */
export async function groupRows(count: number, keys: number, keyOf: (row: number) => number, breath: Breath): Promise<Grouped> {
  const starts = new Int32Array(keys + 1);
  for (let row = 0; row < count; row++) {
    if (breath.due()) await breath.take();
    const key = keyOf(row);
    if (key >= 0) starts[key + 1]!++;
  }
  for (let key = 0; key < keys; key++) starts[key + 1]! += starts[key]!;
  const next = starts.slice();
  const rows = new Int32Array(starts[keys]!);
  for (let row = 0; row < count; row++) {
    if (breath.due()) await breath.take();
    const key = keyOf(row);
    if (key >= 0) rows[next[key]!++] = row;
  }
  return { starts, rows };
}
