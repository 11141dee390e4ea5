/** Numbers that look random and are the same on every machine for the same seed (mulberry32, public domain, by Tommy Ettinger). */
export class PlantRandom {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** At least 0 and below 1. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = this.#state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number, both ends included. */
  whole(least: number, most: number): number {
    return least + Math.floor(this.next() * (most - least + 1));
  }

  chance(probability: number): boolean {
    return this.next() < probability;
  }

  /** `count` different members of the list, in random order. */
  some<T>(list: readonly T[], count: number): T[] {
    const left = [...list];
    const taken: T[] = [];
    while (taken.length < count && left.length > 0) taken.push(...left.splice(this.whole(0, left.length - 1), 1));
    return taken;
  }
}
