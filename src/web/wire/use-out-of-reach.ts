import type { UseQueryResult } from '@tanstack/react-query';
import { useState } from 'react';
import { Unreachable } from './problem.js';

/**
 * True while nothing is known of what was asked, for want of a connection. It stays true while the server is asked again, so that what a
 * person types meanwhile is not taken from under their fingers.
 */
export function useOutOfReach({ data, error }: Pick<UseQueryResult<unknown, unknown>, 'data' | 'error'>): boolean {
  const [was, setWas] = useState(false);
  const is = data === undefined && (error ? error instanceof Unreachable : was);
  if (is !== was) setWas(is);
  return is;
}
