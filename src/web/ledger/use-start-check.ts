import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { api, type View } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';

/**
 * Starts a check of the whole record. It is no command and carries no id of one: it writes nothing, and while a check runs the server
 * answers that one.
 */
export function useStartCheck(): {
  start: (body?: View<'StartVerificationDto'>) => Promise<boolean>;
  busy: boolean;
  problem: Problem | null;
} {
  const queries = useQueryClient();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  async function start(body: View<'StartVerificationDto'> = {}): Promise<boolean> {
    setBusy(true);
    setProblem(null);
    try {
      const { error } = await api.POST('/api/ledger/verifications', { body });
      if (error) setProblem(problemOf(error));
      else await queries.invalidateQueries({ queryKey: ['get', '/api/ledger/verifications'] });
      return error === undefined;
    } catch (error) {
      setProblem(problemOf(error));
      return false;
    } finally {
      setBusy(false);
    }
  }
  return { start, busy, problem };
}
