import { useState } from 'react';
import { writtenCount, writtenShare } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { CsvLink, type Period } from './csv-link.js';

type Week = View<'RightFirstTimeRowView'>;

interface ItemSum {
  readonly item: string;
  readonly weeks: number;
  readonly lots: number;
  readonly lotsAccepted: number;
  readonly pieces: number;
  readonly piecesAccepted: number;
}

/** How often it was right the first time it was inspected, by item, and week by week for the one that is looked at. */
export function RightFirstTime({ period }: { period: Period }) {
  const [item, setItem] = useState<string | null>(null);
  const query = server.useQuery('get', '/api/figures/right-first-time', { params: { query: period } });
  return (
    <Section
      title="Right the first time"
      note="accepted at the first inspection; what was reworked is not there for the first time"
      actions={<CsvLink file="right-first-time" query={{ ...period, item: item ?? undefined }} />}
    >
      <Answered query={query} what="first inspections">
        {(weeks) => (
          <>
            <LedgerTable
              caption="Right the first time, by item"
              rows={byItem(weeks)}
              rowKey={(row) => row.item}
              rowClass={(row) => (row.item === item ? 'chosen' : undefined)}
              columns={[
                { head: 'Item', cell: (row) => <Refer kind="item" code={row.item} /> },
                { head: 'Lots', num: true, cell: ({ lots }) => writtenCount(lots) },
                { head: 'Right', num: true, cell: ({ lotsAccepted }) => writtenCount(lotsAccepted) },
                { head: 'Of lots', num: true, cell: ({ lots, lotsAccepted }) => writtenShare(lotsAccepted / lots) },
                { head: 'Pieces', num: true, cell: ({ pieces }) => (pieces === 0 ? 'bulk' : writtenCount(pieces)) },
                {
                  head: 'Of pieces',
                  num: true,
                  cell: ({ pieces, piecesAccepted }) => (pieces === 0 ? '' : writtenShare(piecesAccepted / pieces)),
                },
                {
                  head: 'Weeks',
                  num: true,
                  cell: (row) => (
                    <button
                      type="button"
                      className="plain"
                      aria-pressed={row.item === item}
                      onClick={() => setItem(row.item === item ? null : row.item)}
                    >
                      {writtenCount(row.weeks)} {row.weeks === 1 ? 'week' : 'weeks'}
                      <span className="hidden-but-read"> of {row.item}</span>
                    </button>
                  ),
                },
              ]}
              empty={
                <Empty>
                  <p>Nothing was inspected for the first time in this period.</p>
                </Empty>
              }
            />
            {item === null ? null : <Weeks item={item} weeks={weeks.filter((week) => week.item === item)} />}
          </>
        )}
      </Answered>
    </Section>
  );
}

function byItem(weeks: readonly Week[]): ItemSum[] {
  const sums = new Map<string, ItemSum>();
  for (const { item, lots, lotsAccepted, pieces, piecesAccepted } of weeks) {
    const sum = sums.get(item) ?? { item, weeks: 0, lots: 0, lotsAccepted: 0, pieces: 0, piecesAccepted: 0 };
    sums.set(item, {
      item,
      weeks: sum.weeks + 1,
      lots: sum.lots + lots,
      lotsAccepted: sum.lotsAccepted + lotsAccepted,
      pieces: sum.pieces + pieces,
      piecesAccepted: sum.piecesAccepted + piecesAccepted,
    });
  }
  // What was right least often needs a person first.
  return [...sums.values()].toSorted((a, b) => a.lotsAccepted / a.lots - b.lotsAccepted / b.lots || (a.item < b.item ? -1 : 1));
}

const Weeks = ({ item, weeks }: { item: string; weeks: readonly Week[] }) => (
  <>
    <h3>
      <span className="code">{item}</span>, week by week
    </h3>
    <LedgerTable
      caption={`Right the first time, ${item}, by ISO week`}
      rows={weeks}
      rowKey={({ week }) => week}
      columns={[
        { head: 'Week', cell: ({ week }) => week },
        { head: 'Lots', num: true, cell: ({ lots }) => writtenCount(lots) },
        { head: 'Right', num: true, cell: ({ lotsAccepted }) => writtenCount(lotsAccepted) },
        { head: 'Of lots', num: true, cell: ({ lotRate }) => writtenShare(lotRate) },
        { head: 'Pieces', num: true, cell: ({ pieces }) => (pieces === 0 ? 'bulk' : writtenCount(pieces)) },
        { head: 'Of pieces', num: true, cell: ({ pieceRate }) => (pieceRate === null ? '' : writtenShare(pieceRate)) },
      ]}
    />
  </>
);
