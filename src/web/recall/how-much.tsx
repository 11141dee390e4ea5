import { useState } from 'react';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { writtenCount, writtenPieces } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { server } from '../wire/client.js';
import { originsOfText, questionOf } from './origin.js';

type Query = NonNullable<ReturnType<typeof questionOf>>;

/** How much a recall from these origins would call back, asked before it is opened. */
export function HowMuch({ text }: { text: string }) {
  const [asked, setAsked] = useState<string | null>(null);
  const query = asked === null ? null : questionOf(originsOfText(asked));
  return (
    <div className="how-much">
      <button type="button" disabled={text.trim() === ''} onClick={() => setAsked(text)}>
        How much is that?
      </button>
      {asked === null ? null : asked !== text ? (
        <p className="quiet">The origins have changed since; ask again.</p>
      ) : query === null ? (
        <p className="quiet">These origins cannot be traced in one question. Trace them one by one, or several whole lots together.</p>
      ) : (
        <Told query={query} />
      )}
    </div>
  );
}

function Told({ query }: { query: Query }) {
  const trace = server.useQuery('get', '/api/trace', { params: { query: { ...query, direction: 'forward', scope: 'both' } } });
  return (
    <Answered query={trace} what="how much that is">
      {(view) => {
        // The document of the API says nothing of pairs; what it sends are the shapes of shared/api.
        const { totals, conservative, asKnownAt } = view as unknown as TraceAnswer;
        return (
          <p role="status">
            Sent to customers, as known at entry {writtenCount(asKnownAt.seq)}: <Sent totals={totals} /> in the narrow scope
            {conservative === undefined ? null : (
              <>
                , <Sent totals={conservative.totals} /> in the conservative one
              </>
            )}
            .
          </p>
        );
      }}
    </Answered>
  );
}

const Sent = ({ totals: { dispatchedPieces, consignees } }: { totals: Pick<TraceAnswer['totals'], 'dispatchedPieces' | 'consignees'> }) => (
  <>
    <strong>{dispatchedPieces === 0 && consignees > 0 ? 'goods in bulk' : writtenPieces(dispatchedPieces)}</strong> to{' '}
    {writtenCount(consignees)} {consignees === 1 ? 'consignee' : 'consignees'}
  </>
);
