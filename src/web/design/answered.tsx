import type { UseQueryResult } from '@tanstack/react-query';
import { type ReactNode, useContext } from 'react';
import { capital } from '../../../shared/written.js';
import { problemOf } from '../wire/problem.js';
import { InPage } from './in-page.js';
import { Page } from './page.js';
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
  const inPage = useContext(InPage);
  if (query.data !== undefined) return <>{children(query.data)}</>;
  if (query.error) {
    const told = (
      <div className="answered">
        <Refused problem={problemOf(query.error)} />
        <button type="button" onClick={() => void query.refetch()}>
          Try again
        </button>
      </div>
    );
    return inPage ? told : <Page title={capital(what)}>{told}</Page>;
  }
  const reading = (
    <p className="answered quiet" role="status">
      Reading {what} …
    </p>
  );
  return inPage ? (
    reading
  ) : (
    <main className="page" id="main">
      {reading}
    </main>
  );
}
