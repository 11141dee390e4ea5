import { inWords } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import type { Lot } from './lot.js';
import { briefPieces, spansIn } from './words.js';

/** Whether and how the lot was inspected. */
export function LotInspections({ lot }: { lot: Lot }) {
  const query = server.useQuery('get', '/api/inspections', { params: { query: { lot: lot.lot } } });
  return (
    <Section title="Inspections">
      <Answered query={query} what="the inspections">
        {(inspections) => (
          <LedgerTable
            caption={`Inspections of ${lot.lot}`}
            rows={inspections}
            rowKey={({ inspection }) => inspection}
            columns={[
              { head: 'Inspection', cell: ({ inspection }) => <Refer kind="inspection" code={inspection} /> },
              { head: 'Why', cell: ({ occasion, source }) => `${occasion}${source === null ? '' : ` ${source}`}` },
              {
                head: 'Verdict',
                cell: ({ state, verdict }) => (
                  <span className={verdict === 'not-accepted' ? 'urgent' : undefined}>{inWords(verdict ?? state)}</span>
                ),
              },
              { head: 'Pieces', cell: ({ pieces }) => (pieces === null ? 'all of it' : briefPieces(spansIn(pieces))) },
              { head: 'Opened', cell: ({ openedAt }) => localWritten(openedAt) },
              { head: 'Ended', cell: ({ endedAt }) => (endedAt === null ? '' : localWritten(endedAt)) },
            ]}
            empty={
              <Empty>
                <p>
                  No inspection was opened for it. An item with an inspection plan has one opened for every lot that is received or made.
                </p>
              </Empty>
            }
          />
        )}
      </Answered>
    </Section>
  );
}
