/**
 * Links newer than the built adjacency: for every lot a chain on each side, newest first. A chain ends at the first link the
 * adjacency covers, so a new adjacency shortens every chain at once without touching one.
 */
export class Delta {
  /** Links before `base` are in the adjacency. */
  base = 0;
  /** By lot: its newest link on each side, or a link before `base`. */
  outHeads: Int32Array = new Int32Array(0);
  inHeads: Int32Array = new Int32Array(0);
  /** By link minus `base`: the next older link of the same lot on that side. */
  outNext: Int32Array = new Int32Array(0);
  inNext: Int32Array = new Int32Array(0);

  push(link: number, fromLot: number, toLot: number): void {
    const at = link - this.base;
    if (at >= this.outNext.length) this.#grow(at + 1);
    this.outNext[at] = this.outHeads[fromLot] ?? -1;
    this.inNext[at] = this.inHeads[toLot] ?? -1;
    this.outHeads[fromLot] = link;
    this.inHeads[toLot] = link;
  }

  /** Takes the newest link off again. */
  pop(link: number, fromLot: number, toLot: number): void {
    const at = link - this.base;
    this.outHeads[fromLot] = this.outNext[at] ?? -1;
    this.inHeads[toLot] = this.inNext[at] ?? -1;
  }

  /** Makes room for lots 1..lots. */
  cover(lots: number): void {
    if (lots < this.outHeads.length) return;
    const capacity = Math.max(lots + 1, Math.ceil(this.outHeads.length * 1.25), 256);
    const copy = (old: Int32Array): Int32Array => {
      const next = new Int32Array(capacity).fill(-1);
      next.set(old);
      return next;
    };
    this.outHeads = copy(this.outHeads);
    this.inHeads = copy(this.inHeads);
  }

  /** The adjacency now covers the links before `base`; `count` links exist. */
  rebase(base: number, count: number): void {
    const shift = base - this.base;
    this.outNext = this.outNext.slice(shift, count - this.base);
    this.inNext = this.inNext.slice(shift, count - this.base);
    this.base = base;
  }

  get byteLength(): number {
    return (this.outHeads.byteLength + this.outNext.byteLength) * 2;
  }

  #grow(needed: number): void {
    const capacity = Math.max(needed, Math.ceil(this.outNext.length * 1.5), 1024);
    const copy = (old: Int32Array): Int32Array => {
      const next = new Int32Array(capacity);
      next.set(old);
      return next;
    };
    this.outNext = copy(this.outNext);
    this.inNext = copy(this.inNext);
  }
}
