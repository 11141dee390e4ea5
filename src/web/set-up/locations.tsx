import { Link, useLocation } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Book, type Words } from './book.js';
import type { Told } from './changes.js';
import { EditPage, HeadFields, headOf, submitWords } from './edit-page.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

type Location = View<'LocationView'>;

const WORDS: Words = {
  place: 'locations',
  many: 'Locations',
  one: 'location',
  purpose: 'Where stock stands: docks, racks, cages, shelves.',
  kept: 'moves and counts keep the location they name',
};
const USES = [
  { value: 'stock', says: 'ordinary stock' },
  { value: 'quarantine', says: 'quarantine: what waits for a decision' },
  { value: 'retain', says: 'retain samples' },
] as const;
const wordOfUse = (use: string): string => USES.find(({ value }) => value === use)?.says.split(':')[0] ?? use;
const told = ({ use }: Location): Told[] => [{ label: 'Used for', text: wordOfUse(use) }];

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/locations')}
      columns={[{ head: 'Used for', cell: ({ use }) => wordOfUse(use) }]}
      teaches={
        <p>
          Three to begin with: a dock in quarantine where deliveries arrive, a rack of ordinary stock, and a shelf for retain samples. More
          can come any day.
        </p>
      }
    />
  );
}

function LocationPage({ code }: { code: string }) {
  const params = { params: { path: { location: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/locations/{location}', params)}
      history={server.useQuery('get', '/api/locations/{location}/history', params)}
      told={told}
      about={{ location: code }}
    >
      {() => (
        <Section title="Where it is used">
          <ul className="used">
            <li>
              <Link href={`/lots?location=${encodeURIComponent(code)}`}>Lots that stand there</Link>
            </li>
          </ul>
        </Section>
      )}
    </RecordPage>
  );
}

function LocationForm({ record }: { record: Location | null }) {
  const [, go] = useLocation();
  return (
    <CommandForm
      path="/api/locations"
      submit={submitWords(WORDS, record)}
      body={(values) => ({ ...headOf(values, record), use: values.choice('/use') })}
      onDone={({ code }) => go(addressOf(WORDS.place, code))}
    >
      <HeadFields record={record} codeHint="vessels, lines and locations share one space of codes" />
      <ChoiceField name="/use" label="Used for" choices={USES} defaultValue={record?.use ?? 'stock'} />
    </CommandForm>
  );
}

function Edit({ code }: { code: string | null }) {
  const path = { location: code ?? '' };
  const query = server.useQuery('get', '/api/locations/{location}', { params: { path } }, { enabled: code !== null });
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <LocationForm record={record} />} />;
}

export const LOCATIONS: Book = { words: WORDS, List, Page: LocationPage, Edit };
