import type { UseQueryResult } from '@tanstack/react-query';
import { type ReactNode, useDeferredValue, useState } from 'react';
import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { type Column, LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { addressOf, type Recorded, REVISERS, withArticle, type Words } from './book.js';
import { Crumb } from './crumb.js';

/** Drawn at once; narrowing shows the rest. */
const MOST_SHOWN = 300;
/** From this many on a list is worth narrowing. */
const WORTH_NARROWING = 8;

/** Every record of a kind, by code, with its name and what tells it from the others. */
export function RecordList<Row extends Recorded>({
  words,
  query,
  columns,
  teaches,
}: {
  words: Words;
  query: Pick<UseQueryResult<readonly Row[], unknown>, 'data' | 'error' | 'refetch'>;
  columns: readonly Column<Row>[];
  /** What an empty list says: what the first one is good for and what it needs. */
  teaches: ReactNode;
}) {
  const mayAdd = useMay(...REVISERS);
  const add = `/set-up/new/${words.place}`;
  return (
    <Answered query={query} what={words.many.toLowerCase()}>
      {(rows) => (
        <Page
          title={words.many}
          crumb={<Crumb />}
          sub={words.purpose}
          facts={[{ label: words.many, value: writtenCount(rows.length) }]}
          actions={
            mayAdd ? (
              <Link className="button primary" href={add}>
                New {words.one}
              </Link>
            ) : undefined
          }
        >
          {rows.length === 0 ? (
            <Empty>
              <p>There is no {words.one} yet.</p>
              {teaches}
              {mayAdd ? null : <p>Quality and administrators add them.</p>}
            </Empty>
          ) : (
            <Rows words={words} rows={rows} columns={columns} />
          )}
        </Page>
      )}
    </Answered>
  );
}

function Rows<Row extends Recorded>({ words, rows, columns }: { words: Words; rows: readonly Row[]; columns: readonly Column<Row>[] }) {
  const [typed, setTyped] = useState('');
  const wanted = useDeferredValue(typed.trim().toLowerCase());
  const found = rows.filter(({ code, name }) => code.toLowerCase().includes(wanted) || name.toLowerCase().includes(wanted));
  const shown = found.slice(0, MOST_SHOWN);
  return (
    <Section title="In the record" note={wanted === '' ? 'by code' : `${writtenCount(found.length)} of ${writtenCount(rows.length)}`}>
      {rows.length < WORTH_NARROWING ? null : (
        <p className="narrow">
          <input
            type="search"
            aria-label={`Narrow the list of ${words.many.toLowerCase()} by code or name`}
            placeholder="Code or name holds …"
            value={typed}
            onChange={(event) => setTyped(event.target.value)}
          />
        </p>
      )}
      <LedgerTable
        caption={words.many}
        rows={shown}
        rowKey={({ code }) => code}
        columns={[
          {
            head: 'Code',
            cell: ({ code }) => (
              <Link href={addressOf(words.place, code)} className="code">
                {code}
              </Link>
            ),
          },
          { head: 'Name', cell: ({ name }) => name },
          ...columns,
          { head: 'Revision', num: true, cell: ({ revision }) => revision },
        ]}
        empty={<Empty>No code and no name holds “{typed.trim()}”.</Empty>}
      />
      {shown.length < found.length ? (
        <p className="quiet">
          The first {writtenCount(shown.length)} of {writtenCount(found.length)}: narrow the list to see {withArticle(words.one)} further
          down.
        </p>
      ) : null}
    </Section>
  );
}
