/** Blending masses of the links where the mass is not the quantity: cans, litres. Rows ascend, and so are found by bisection. */
export class OwnMasses {
  rows: Uint32Array = new Uint32Array(0);
  masses: Float64Array = new Float64Array(0);
  count = 0;

  adopt(rows: Uint32Array, masses: Float64Array): void {
    this.rows = rows;
    this.masses = masses;
    this.count = rows.length;
  }

  /** @param row after every row pushed before */
  push(row: number, massMicro: number): void {
    if (this.count === this.rows.length) this.#grow();
    this.rows[this.count] = row;
    this.masses[this.count] = massMicro;
    this.count++;
  }

  at(row: number): number {
    let low = 0;
    let high = this.count;
    while (low < high) {
      const mid = (low + high) >>> 1;
      if ((this.rows[mid] ?? 0) < row) low = mid + 1;
      else high = mid;
    }
    return this.rows[low] === row ? (this.masses[low] ?? 0) : 0;
  }

  dropFrom(row: number): void {
    while (this.count > 0 && (this.rows[this.count - 1] ?? 0) >= row) this.count--;
  }

  get byteLength(): number {
    return this.rows.byteLength + this.masses.byteLength;
  }

  #grow(): void {
    const capacity = Math.max(64, Math.ceil(this.count * 1.25));
    const rows = new Uint32Array(capacity);
    const masses = new Float64Array(capacity);
    rows.set(this.rows);
    masses.set(this.masses);
    this.rows = rows;
    this.masses = masses;
  }
}
