import { useState } from 'react';
import { useSearchParams } from 'wouter';
import { useMay } from '../app/session.js';
import { server } from '../wire/client.js';
import { Answered } from '../design/answered.js';
import { EntryTable } from '../design/entries.js';
import { Empty, Section } from '../design/page.js';

/** What entries can be about, by the names of the API, in the words of the plant. */
const KINDS = [
  ['lot', 'lot'],
  ['run', 'run'],
  ['delivery', 'delivery'],
  ['shipment', 'shipment'],
  ['return', 'return'],
  ['hold', 'hold'],
  ['inspection', 'inspection'],
  ['report', 'nonconformance report'],
  ['recall', 'recall'],
  ['instrument', 'instrument'],
  ['item', 'item'],
  ['party', 'party'],
  ['vessel', 'vessel'],
  ['line', 'line'],
  ['location', 'location'],
  ['document', 'stock document or paper'],
  ['person', 'person'],
  ['entry', 'entry that was corrected'],
] as const;
type About = (typeof KINDS)[number][0];

/** Every entry about one record, by its code. */
export function AboutSearch() {
  const [asked, setAsked] = useSearchParams();
  const about = KINDS.find(([kind]) => asked.has(kind))?.[0] ?? 'lot';
  const code = asked.get(about) ?? '';
  const [kind, setKind] = useState<About>(about);
  return (
    <>
      <Section title="Search" note="every entry about one record" screenOnly>
        <form
          className="row end"
          role="search"
          aria-label="Entries about one record"
          onSubmit={(event) => {
            event.preventDefault();
            const text = new FormData(event.currentTarget).get('code');
            if (typeof text === 'string' && text.trim() !== '') setAsked(new URLSearchParams({ [kind]: text.trim() }));
          }}
        >
          <div className="field">
            <label htmlFor="about-kind">About a</label>
            <select
              id="about-kind"
              value={kind}
              onChange={(event) => setKind(KINDS.find(([one]) => one === event.target.value)?.[0] ?? 'lot')}
            >
              {KINDS.map(([one, says]) => (
                <option key={one} value={one}>
                  {says}
                </option>
              ))}
            </select>
          </div>
          <div className="field">
            <label htmlFor="about-code">with the code</label>
            <input id="about-code" name="code" className="code" defaultValue={code} autoComplete="off" spellCheck={false} />
          </div>
          <button type="submit">Find its entries</button>
        </form>
      </Section>
      {code === '' ? null : <EntriesAbout kind={about} code={code} />}
    </>
  );
}

/** The latest entries that name one record; all of them go with an export, each proved to be the plant's. */
function EntriesAbout({ kind, code }: { kind: About; code: string }) {
  const about = { [kind]: code };
  const query = server.useQuery('get', '/api/ledger/about', { params: { query: about } });
  const mayExport = useMay('quality', 'auditor', 'administrator');
  const says = KINDS.find(([one]) => one === kind)![1];
  const canExport = mayExport && query.data !== undefined && query.data.told.length > 0;
  return (
    <Section
      title={`Entries about ${says} ${code}`}
      note="the latest first"
      actions={
        canExport ? (
          <a className="button" href={`/api/ledger/export.jsonl?${new URLSearchParams(about).toString()}`} download>
            Export these entries
          </a>
        ) : null
      }
    >
      <Answered query={query} what="the entries">
        {({ told }) => (
          <EntryTable
            caption={`Entries about ${says} ${code}`}
            told={told}
            empty={
              <Empty>
                <p>
                  No entry names a {says} with the code <code>{code}</code>. Codes are compared as they are written: case, zeros and dashes
                  count. The box on top finds codes of any kind, also by a part of them.
                </p>
              </Empty>
            }
          />
        )}
      </Answered>
    </Section>
  );
}
