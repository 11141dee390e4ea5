import { useCallback, useEffect, useMemo, useRef } from 'react';
import { useLocation, useSearch } from 'wouter';
import { addressOf, type Question, readQuestion } from './question.js';

/** What can change the address many times in a row: only the first of a row is something to go back to. */
type By = 'slider' | 'chosen' | 'form';
export type Ask = (change: Partial<Question>, by?: By) => void;

/** The question in the address, and the way to ask another. */
export function useQuestion(): [Question, Ask] {
  const search = useSearch();
  const [, go] = useLocation();
  const lastBy = useRef<By>('form');
  const question = useMemo(() => readQuestion(search), [search]);
  const latest = useRef({ question, go });
  useEffect(() => {
    latest.current = { question, go };
  });
  // One function for good, so that what asks is not drawn anew with every question.
  const ask = useCallback<Ask>((change, by = 'form') => {
    const replace = by === 'chosen' || (by === 'slider' && lastBy.current === 'slider');
    if (by !== 'chosen') lastBy.current = by;
    latest.current.go(addressOf({ ...latest.current.question, ...change }), { replace });
  }, []);
  return [question, ask];
}
