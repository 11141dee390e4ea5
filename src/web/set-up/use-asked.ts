import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { type Problem, problemOf } from '../wire/problem.js';

/**
 * Something asked of the server that is no repeatable command, because what it answers or takes must be kept nowhere: a password, a key.
 * What was read before is read anew once it is done.
 */
export function useAsked<Answer>(): {
  busy: boolean;
  problem: Problem | null;
  ask: (request: () => Promise<{ data?: Answer; error?: unknown }>, onDone: (answer: Answer) => void) => Promise<void>;
} {
  const queries = useQueryClient();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  return {
    busy,
    problem,
    async ask(request, onDone) {
      setBusy(true);
      setProblem(null);
      try {
        const { data, error } = await request();
        if (error !== undefined) throw error;
        await queries.invalidateQueries();
        onDone(data as Answer);
      } catch (error) {
        setProblem(problemOf(error));
      } finally {
        setBusy(false);
      }
    },
  };
}
