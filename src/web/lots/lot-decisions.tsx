import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import type { Lot } from './lot.js';
import { briefPieces, partWords, spansIn } from './words.js';

/** What quality decided about the lot, who signed it and what the signature means; and the holds and reports on it. */
export function LotDecisions({ lot }: { lot: Lot }) {
  const query = server.useQuery('get', '/api/lots/{lot}/decisions', { params: { path: { lot: lot.lot } } });
  return (
    <Section title="Decisions, holds and reports">
      <Answered query={query} what="the decisions">
        {(decisions) => (
          <LedgerTable
            caption={`Quality decisions on ${lot.lot}, newest first`}
            rows={decisions.toReversed()}
            rowKey={({ seq, decision }) => `${seq} ${decision}`}
            columns={[
              { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
              { head: 'When', cell: ({ signedAt }) => localWritten(signedAt) },
              {
                head: 'Decision',
                cell: ({ decision, document }) => (
                  <>
                    {decision}{' '}
                    {document === null ? null : document.startsWith('H-') ? <Refer kind="hold" code={document} /> : <code>{document}</code>}
                  </>
                ),
              },
              { head: 'On', cell: ({ pieces }) => (pieces === null ? '' : briefPieces(spansIn(pieces))) },
              { head: 'Signed', cell: ({ signedBy }) => <code>{signedBy}</code> },
              {
                head: 'Reason and meaning',
                cell: ({ reason, meaning }) => (
                  <>
                    {reason}
                    <br />
                    <span className="quiet">“{meaning}”</span>
                  </>
                ),
              },
            ]}
            empty={
              <Empty>
                <p>Nothing was decided about it yet. A lot stands in quarantine until quality releases it or does not accept it.</p>
              </Empty>
            }
          />
        )}
      </Answered>
      <Holds lot={lot} />
      <Reports lot={lot} />
    </Section>
  );
}

function Holds({ lot }: { lot: Lot }) {
  if (lot.holds.length === 0) return null;
  return (
    <>
      <h3>Holds on it</h3>
      <LedgerTable
        caption={`Holds on ${lot.lot}, its own and those it inherits`}
        rows={lot.holds}
        rowKey={({ hold, lot: held, pieces }) => `${hold} ${held} ${pieces}`}
        columns={[
          { head: 'Hold', cell: ({ hold }) => <Refer kind="hold" code={hold} /> },
          { head: 'Held lot', cell: (hold) => (hold.inherited ? <Refer kind="heldLot" code={hold.lot} /> : 'this lot') },
          { head: 'Stops', cell: (hold) => partWords(hold, lot.unit) },
          { head: 'And what was made from it', cell: ({ reaches }) => (reaches ? 'too' : 'no') },
          { head: 'Reason', cell: ({ reason }) => reason },
        ]}
      />
    </>
  );
}

function Reports({ lot }: { lot: Lot }) {
  if (lot.reports.length === 0) return null;
  return (
    <>
      <h3>Nonconformance reports</h3>
      <LedgerTable
        caption={`Reports that judge a part of ${lot.lot} affected`}
        rows={lot.reports}
        rowKey={({ report }) => report}
        columns={[
          { head: 'Report', cell: ({ report }) => <Refer kind="report" code={report} /> },
          { head: 'State', cell: ({ state }) => state },
          { head: 'Severity', cell: ({ severity }) => severity },
          { head: 'Affected', cell: (report) => partWords(report, lot.unit) },
          { head: 'Requirement not met', cell: ({ requirement }) => requirement },
        ]}
      />
    </>
  );
}
