import { Link } from 'wouter';
import { inWords } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import { amount } from './run.js';

/** Inspections of what was made, and samples of it that are kept or were used up. */
export function LotTests({ lot }: { lot: string }) {
  const inspections = server.useQuery('get', '/api/inspections', { params: { query: { lot } } });
  const documents = server.useQuery('get', '/api/stock/documents', { params: { query: { lot } } });
  return (
    <Section
      title="Tests and samples"
      note={`of ${lot}`}
      actions={
        <Link className="button" href={`/lots/${encodeURIComponent(lot)}`}>
          Take a sample, on the lot’s page
        </Link>
      }
    >
      <Answered query={inspections} what="the inspections">
        {(rows) => (
          <LedgerTable
            caption={`Inspections of ${lot}`}
            rows={rows}
            rowKey={({ inspection }) => inspection}
            columns={[
              { head: 'Inspection', cell: ({ inspection }) => <Refer kind="inspection" code={inspection} /> },
              { head: 'Opened', cell: ({ openedAt }) => localWritten(openedAt) },
              { head: 'For', cell: ({ occasion, pieces }) => `${occasion}${pieces === null ? '' : `, pieces ${pieces}`}` },
              { head: 'State', cell: ({ state }) => state },
              { head: 'Verdict', cell: ({ verdict }) => (verdict === null ? '' : inWords(verdict)) },
            ]}
            empty={
              <Empty>
                <p>No inspection was opened for it: its item has no inspection plan, or it was made before there was one.</p>
              </Empty>
            }
          />
        )}
      </Answered>
      <Answered query={documents} what="its samples">
        {(rows) => {
          const samples = rows.filter(
            ({ moved, correctedSeq }) =>
              correctedSeq === null && moved.some(({ toFate }) => toFate === 'retained' || toFate === 'destroyed-in-test'),
          );
          if (samples.length === 0) return <p className="quiet">No sample of it was taken.</p>;
          return (
            <LedgerTable
              caption={`Samples of ${lot}`}
              rows={samples}
              rowKey={({ document }) => document}
              columns={[
                { head: 'Document', cell: ({ document }) => <code>{document}</code> },
                { head: 'When', cell: ({ at }) => localWritten(at) },
                { head: 'By', cell: ({ by }) => <code>{by}</code> },
                {
                  head: 'What',
                  cell: ({ moved }) =>
                    moved
                      .map(
                        ({ toFate, toAt, pieces }) =>
                          `${inWords(toFate)}${toFate === 'retained' ? ` at ${toAt}` : ''}${pieces === null ? '' : `, pieces ${pieces}`}`,
                      )
                      .join('; '),
                },
                {
                  head: 'How much',
                  num: true,
                  cell: ({ moved }) => moved.map(({ quantity, pieces }) => amount(quantity, pieces === null ? '' : 'each')).join('; '),
                },
                { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
              ]}
            />
          );
        }}
      </Answered>
    </Section>
  );
}
