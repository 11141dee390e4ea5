import type { UseQueryResult } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { problemOf } from '../wire/problem.js';
import { Refused } from './refused.js';

/** Shows what was asked for: that it is being read, why it could not be, or the answer. What was read stays while it is read anew. */
export function Answered<Answer>({
  query,
  what,
  children,
}: {
  query: Pick<UseQueryResult<Answer, unknown>, 'data' | 'error' | 'refetch'>;
  /** What is being read, as `the lot`. */
  what: string;
  children: (answer: Answer) => ReactNode;
}) {
  if (query.data !== undefined) return <>{children(query.data)}</>;
  if (query.error) {
    return (
      <div className="answered">
        <Refused problem={problemOf(query.error)} />
        <button type="button" onClick={() => void query.refetch()}>
          Try again
        </button>
      </div>
    );
  }
  return (
    <p className="answered quiet" role="status">
      Reading {what} …
    </p>
  );
}
