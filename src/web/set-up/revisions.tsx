import type { UseQueryResult } from '@tanstack/react-query';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { Recorded, Words } from './book.js';
import { changeInWords, changesBetween, type Told } from './changes.js';

export interface Revision<Row> {
  readonly revision: number;
  readonly sinceSeq: number;
  readonly at: string;
  readonly by: string;
  readonly reason: string | null;
  readonly record: Row;
}

/** Every revision, the newest first: when, by whom, why, and what it says other than the one before. */
export function Revisions<Row extends Recorded>({
  words,
  query,
  told,
}: {
  words: Words;
  query: Pick<UseQueryResult<readonly Revision<Row>[], unknown>, 'data' | 'error' | 'refetch'>;
  told: (record: Row) => readonly Told[];
}) {
  return (
    <Section title="Revisions" note={`newest first; ${words.kept}`}>
      <Answered query={query} what="its revisions">
        {(revisions) => (
          <LedgerTable
            caption="Revisions, newest first"
            rows={revisions.toReversed()}
            rowKey={({ revision }) => `${revision}`}
            columns={[
              { head: 'Revision', num: true, cell: ({ revision }) => revision },
              { head: 'Since', cell: ({ at }) => localWritten(at) },
              { head: 'Entry', num: true, cell: ({ sinceSeq }) => <Refer kind="entry" code={`${sinceSeq}`} /> },
              { head: 'By', cell: ({ by }) => <code>{by}</code> },
              { head: 'Why', cell: ({ reason }) => reason ?? 'new' },
              { head: 'What changed', cell: (one) => <Changed before={before(revisions, one)} after={one.record} told={told} /> },
            ]}
          />
        )}
      </Answered>
    </Section>
  );
}

const before = <Row,>(revisions: readonly Revision<Row>[], { revision }: Revision<Row>): Row | undefined =>
  revisions.find((one) => one.revision === revision - 1)?.record;

function Changed<Row extends Recorded>({
  before: was,
  after,
  told,
}: {
  before: Row | undefined;
  after: Row;
  told: (record: Row) => readonly Told[];
}) {
  if (was === undefined) return <>all of it: the first</>;
  const named = (record: Row): Told[] => [{ label: 'Name', text: record.name }, ...told(record)];
  return (
    <ul className="changes">
      {changesBetween(named(was), named(after)).map((change) => (
        <li key={change.label}>{changeInWords(change)}</li>
      ))}
    </ul>
  );
}
