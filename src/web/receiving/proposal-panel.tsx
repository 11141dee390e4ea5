import { useEffect, useRef } from 'react';
import type { Proposal } from './proposal.js';

/** What the last scan would do, before it does it: taken by a press, by Enter, or by the next scan. */
export function ProposalPanel({ proposal, onTake, onLeave }: { proposal: Proposal; onTake: () => void; onLeave: () => void }) {
  const take = useRef<HTMLButtonElement>(null);
  useEffect(() => take.current?.focus(), [proposal]);
  return (
    <section className="proposal" aria-label="What was scanned" aria-live="polite">
      <div>
        <h2>{proposal.does}</h2>
        <ul>
          {proposal.understood.map((line) => (
            <li key={line}>{line}</li>
          ))}
          {proposal.cautions.map((line) => (
            <li key={line} className="urgent">
              {line}
            </li>
          ))}
        </ul>
        <p className="quiet">The next scan takes this one as it stands.</p>
      </div>
      <div className="row">
        <button type="button" className="primary big" ref={take} onClick={onTake}>
          Take it
        </button>
        <button type="button" className="big" onClick={onLeave}>
          Leave it
        </button>
      </div>
    </section>
  );
}
