import { useState } from 'react';
import { useLocation } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { Section } from '../design/page.js';
import type { Lot } from './lot.js';

/** The lot as the record had it at an earlier entry. */
export function AsKnownAt({ lot, past }: { lot: Lot; past: boolean }) {
  const [, go] = useLocation();
  const [entry, setEntry] = useState(past ? `${lot.asKnownAt}` : '');
  const address = `/lots/${encodeURIComponent(lot.lot)}`;
  return (
    <Section title="As known at" note={`this page shows entry ${writtenCount(lot.asKnownAt)}${past ? '' : ', the latest'}`}>
      <form
        className="row end no-print"
        onSubmit={(event) => {
          event.preventDefault();
          if (/^\d+$/u.test(entry)) go(`${address}?asKnownAt=${entry}`);
        }}
      >
        <div className="field">
          <label htmlFor="as-known-at">Entry of the ledger</label>
          <input
            id="as-known-at"
            type="number"
            min={lot.bornSeq}
            max={past ? undefined : lot.asKnownAt}
            required
            value={entry}
            onChange={(event) => setEntry(event.target.value)}
          />
        </div>
        <button type="submit">Show it as it stood then</button>
        {past ? (
          <button type="button" onClick={() => go(address)}>
            As it stands now
          </button>
        ) : null}
      </form>
    </Section>
  );
}
