import { useMemo, useRef } from 'react';
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
  const ask: Ask = (change, by = 'form') => {
    const replace = by === 'chosen' || (by === 'slider' && lastBy.current === 'slider');
    if (by !== 'chosen') lastBy.current = by;
    go(addressOf({ ...question, ...change }), { replace });
  };
  return [question, ask];
}
