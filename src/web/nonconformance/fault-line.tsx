import type { ReactNode } from 'react';
import { useFaults } from '../design/form.js';

/** Faults against a whole list, said under it; `id` is where the summary leads. */
export function useFaultLine(name: string): { id: string; says: ReactNode } {
  const { id, faults } = useFaults(name);
  const own = faults.filter((fault) => fault['pointer'] === name);
  return {
    id,
    says:
      own.length === 0 ? null : (
        <div className="field">
          <span className="fault">{own.map(({ detail }) => detail).join('; ')}</span>
        </div>
      ),
  };
}
