/** The middle one of some measurements. */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[sorted.length >>> 1] ?? Number.NaN;
}

/**
 * Microseconds a call takes: the median of three windows of at least 5 ms. A single short window may fall on the collection of
 * garbage that follows a long wait.
 */
export function microseconds(work: () => unknown): number {
  const windows: number[] = [];
  for (let window = 0; window < 3; window++) {
    let calls = 0;
    const start = performance.now();
    let now = start;
    for (let batch = 1; now - start < 5; batch *= 2) {
      for (let call = 0; call < batch; call++) work();
      calls += batch;
      now = performance.now();
    }
    windows.push(((now - start) * 1000) / calls);
  }
  return median(windows);
}

/** Milliseconds until done. */
export async function milliseconds(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

export interface Race {
  readonly engineMicros: number;
  readonly otherMicros: number;
  /** How many times as long the other takes: the median of the rounds' ratios. */
  readonly times: number;
}

/** Both sides in turn, round by round in one process, so that a busy machine slows both. */
export async function race(engine: () => unknown, other: () => Promise<unknown>, rounds = 7): Promise<Race> {
  const engines: number[] = [];
  const others: number[] = [];
  for (let round = 0; round < rounds; round++) {
    others.push((await milliseconds(other)) * 1000);
    engines.push(microseconds(engine));
  }
  return {
    engineMicros: median(engines),
    otherMicros: median(others),
    times: median(others.map((micros, round) => micros / (engines[round] ?? 1))),
  };
}

/** A figure with three significant digits. */
export const figure = (value: number): string => (value >= 100 ? Math.round(value).toLocaleString('en') : value.toPrecision(3));
