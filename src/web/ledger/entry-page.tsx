import { Link } from 'wouter';
import { server } from '../wire/client.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { Page, Section } from '../design/page.js';
import './ledger.css';

/** Entries are numbered 1, 2, 3 …: an address with anything else names none, and the server need not be asked. */
export function EntryPage({ seq }: { seq: string }) {
  if (/^[1-9]\d{0,9}$/.test(seq)) return <OneEntry seq={seq} />;
  return (
    <Page crumb="Ledger" title={`There is no entry ${seq}`}>
      <p>
        Entries are numbered from 1. <Link href="/ledger">To the latest ones</Link>
      </p>
    </Page>
  );
}

/** One entry: what it says in plain words, and the very text that was hashed. */
function OneEntry({ seq }: { seq: string }) {
  const query = server.useQuery('get', '/api/ledger/entries/{seq}', { params: { path: { seq: Number(seq) } } });
  return (
    <Answered query={query} what={`entry ${seq}`}>
      {(entry) => (
        <Page crumb="Ledger" title={`Entry ${entry.seq}`} sub={`${localWritten(entry.at, true)}, ${entry.actor}`}>
          <Section title="What happened" note={entry.kind}>
            <p>{entry.says}</p>
            {entry.effects.length === 0 ? null : (
              <ul>
                {entry.effects.map((effect) => (
                  <li key={effect}>{effect}</li>
                ))}
              </ul>
            )}
          </Section>
          <Section title="As it was written" note="canonical JSON (RFC 8785); its SHA-256 is the hash, and the next entry names it">
            <dl className="written-entry">
              <dt>Hash</dt>
              <dd className="code">{entry.hash}</dd>
              <dt>Text</dt>
              <dd>
                <pre>{entry.body}</pre>
              </dd>
            </dl>
          </Section>
        </Page>
      )}
    </Answered>
  );
}
