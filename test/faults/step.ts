import type { Role } from '../../src/server/plant/people/access.js';
import type { Answer, Plant } from '../harness.js';
import { PASSWORD } from '../persons.js';

/** Codes that earlier steps of the story answered. */
export type Told = Record<string, string>;

/**
 * One kind of command, sent once with success in a story where each step may rest on those before it.
 * A route that changes the record and is not in the story fails a test: add a step for it.
 */
export interface Step {
  readonly route: string;
  readonly by: Role;
  readonly body?: ((told: Told) => object) | undefined;
  /** Parameters of the route, in order. */
  readonly params?: ((told: Told) => readonly string[]) | undefined;
  /** Keeps what later steps need of the answer. */
  readonly keep?: ((answer: never, told: Told) => void) | undefined;
  /** For what is not a JSON body. */
  readonly send?: ((plant: Plant) => Promise<Answer>) | undefined;
  /** Says which, where a route has several steps. */
  readonly what?: string;
  /** Minutes that pass before it. */
  readonly after?: number;
}

export const signed = (more: object = {}) => ({ password: PASSWORD, reason: 'as the story goes', ...more });
export const part = (more: object) => ({ reason: 'as the story goes', ...more });
