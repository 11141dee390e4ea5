import { figure } from './measure.js';

export type Print = (line: string) => void;

/** Figures of one bench, held against the bars they must not pass. */
export class Bars {
  #missed = 0;

  constructor(readonly print: Print) {}

  get missed(): number {
    return this.#missed;
  }

  /** A figure that may be at most `bar`. */
  atMost(what: string, value: number, bar: number, unit: string): void {
    this.#judge(what, value, value <= bar, `at most ${figure(bar)} ${unit}`, unit);
  }

  /** A figure that must be at least `bar`. */
  atLeast(what: string, value: number, bar: number, unit: string): void {
    this.#judge(what, value, value >= bar, `at least ${figure(bar)} ${unit}`, unit);
  }

  /** A line of a bench that judges itself, and says where it went beyond. */
  said(line: string): void {
    if (line.includes('BEYOND')) this.#missed += 1;
    this.print(line);
  }

  /** A figure without a bar. */
  note(what: string, value: number, unit: string): void {
    this.print(`      ${what}: ${figure(value)} ${unit}`);
  }

  #judge(what: string, value: number, passed: boolean, bar: string, unit: string): void {
    if (!passed) this.#missed += 1;
    this.print(`${passed ? 'pass' : 'MISS'}  ${what}: ${figure(value)} ${unit} (${bar})`);
  }
}
