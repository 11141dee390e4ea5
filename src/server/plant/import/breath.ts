/** Longest stretch, in milliseconds, that a long loop keeps the event loop to itself. */
const LONGEST = 20;

/** Lets others have their turn in a long loop: `if (breath.due()) await breath.take()`. */
export class Breath {
  #since = performance.now();
  #steps = 0;

  due(): boolean {
    return (++this.#steps & 255) === 0 && this.dueNow();
  }

  /** The same for loops whose steps are long. */
  dueNow(): boolean {
    return performance.now() - this.#since > LONGEST;
  }

  async take(): Promise<void> {
    await new Promise<void>((resolve) => {
      setImmediate(resolve);
    });
    this.#since = performance.now();
  }
}
