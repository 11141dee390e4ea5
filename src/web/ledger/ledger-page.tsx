import { Link, useSearch } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { server, type View } from '../wire/client.js';
import { Answered } from '../design/answered.js';
import { EntryTable } from '../design/entries.js';
import { Empty, Page, Section } from '../design/page.js';
import { AboutSearch } from './about-search.js';
import { LedgerTabs } from './ledger-tabs.js';

type Entries = View<'EntriesView'>;
const PAGE = 50;

/** The entries, newest first. */
export function LedgerPage() {
  const from = Number(new URLSearchParams(useSearch()).get('from') ?? '0');
  const query = server.useQuery('get', '/api/ledger/entries', { params: { query: from > 0 ? { from, limit: PAGE } : { limit: PAGE } } });
  return (
    <Answered query={query} what="the ledger">
      {(entries) => (
        <Page
          title="Ledger"
          sub="Every change of the record, in the order in which it was made. Nothing here is ever edited or taken out."
          facts={[{ label: 'Entries', value: writtenCount(entries.entries) }]}
        >
          <LedgerTabs />
          <AboutSearch />
          <Section title="All entries" note={`ending in hash ${entries.hash.slice(0, 16)} …`} actions={<Pages entries={entries} />}>
            <EntryTable
              caption="Entries of the ledger, newest first"
              told={entries.told}
              empty={
                <Empty>
                  <p>The ledger is empty. The first delivery, person or item that is recorded becomes entry 1.</p>
                </Empty>
              }
            />
          </Section>
        </Page>
      )}
    </Answered>
  );
}

/** The way to older and newer entries. */
function Pages({ entries }: { entries: Entries }) {
  const first = entries.told[0]?.seq ?? 1;
  return (
    <>
      {first > 1 ? (
        <Link className="button" href={`/ledger?from=${Math.max(1, first - PAGE)}`}>
          Older
        </Link>
      ) : null}
      {entries.next === null ? null : (
        <Link className="button" href={`/ledger?from=${entries.next}`}>
          Newer
        </Link>
      )}
    </>
  );
}
