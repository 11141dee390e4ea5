import type { ReactNode } from 'react';
import { server, type View } from '../wire/client.js';
import type { paths } from '../wire/schema.js';
import { localWritten } from '../app/clock.js';
import { Answered } from './answered.js';
import { LedgerTable } from './ledger-table.js';
import { Section } from './page.js';
import { Refer } from './refer.js';

type About = NonNullable<paths['/api/ledger/about']['get']['parameters']['query']>;

type Entry = View<'EntryView'>;

/** Entries of the ledger, the latest first: when, by whom, and what each says. */
export function EntryTable({ caption, told, empty }: { caption: string; told: readonly Entry[]; empty?: ReactNode }) {
  return (
    <LedgerTable
      caption={caption}
      rows={told.toReversed()}
      rowKey={({ seq }) => `${seq}`}
      columns={[
        { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
        { head: 'When', whole: true, cell: ({ at }) => localWritten(at) },
        { head: 'Who', cell: ({ actor }) => <code>{actor}</code> },
        { head: 'What', cell: ({ says }) => says },
      ]}
      empty={empty}
    />
  );
}

/** Every record ends with its entries in the ledger, in plain words: the newest state is a press away from its history. */
export function Entries({ about, of = 'it' }: { about: About; of?: string }) {
  const query = server.useQuery('get', '/api/ledger/about', { params: { query: about } });
  return (
    <Section title="Entries" note={`what the ledger says of ${of}, newest first`}>
      <Answered query={query} what="the entries">
        {({ told }) => <EntryTable caption="Entries of the ledger" told={told} />}
      </Answered>
    </Section>
  );
}
