import { useEffect } from 'react';
import { useLocation, useSearch } from 'wouter';
import { giveUp, keptCommand } from '../outbox/outbox.js';
import type { BodyOf } from '../wire/use-command.js';
import { type ChargeDrafting, draftOfKept } from './charge-draft.js';

/** A charge that was kept without a connection and refused afterwards comes back into the form, with the time at which it was done. */
export function useTakenBack(run: string, { take }: ChargeDrafting): void {
  const [, go] = useLocation();
  const again = new URLSearchParams(useSearch()).get('again');
  useEffect(() => {
    async function takeBack(id: string): Promise<void> {
      const kept = await keptCommand(id);
      const draft = kept?.address['run'] === run ? draftOfKept(kept.body as BodyOf<'/api/runs/{run}/charges'>) : null;
      if (draft !== null) {
        take(draft);
        await giveUp(id);
      }
      go(`/production/runs/${encodeURIComponent(run)}`, { replace: true });
    }
    if (again !== null) void takeBack(again);
    // oxlint-disable-next-line react/exhaustive-deps -- once for each address
  }, [again]);
}
