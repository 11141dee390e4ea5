import { Link, useLocation } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Book, type Words } from './book.js';
import { EditPage, HeadFields, headOf, submitWords } from './edit-page.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

const WORDS: Words = {
  place: 'lines',
  many: 'Lines',
  one: 'line',
  purpose: 'Where goods are machined, treated, filled, built or packed: lines, cells, benches, tables.',
  kept: 'runs keep the line they ran on',
};
const told = () => [];

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/lines')}
      columns={[]}
      teaches={
        <p>A run of filling or building needs a line to run on. A line is a place too, so its code is no vessel’s and no location’s.</p>
      }
    />
  );
}

function LinePage({ code }: { code: string }) {
  const params = { params: { path: { line: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/lines/{line}', params)}
      history={server.useQuery('get', '/api/lines/{line}/history', params)}
      told={told}
      about={{ line: code }}
    >
      {() => (
        <Section title="Where it is used">
          <ul className="used">
            <li>
              <Link href="/production">What runs on it now</Link>
            </li>
          </ul>
        </Section>
      )}
    </RecordPage>
  );
}

function LineForm({ record }: { record: View<'LineView'> | null }) {
  const [, go] = useLocation();
  return (
    <CommandForm
      path="/api/lines"
      submit={submitWords(WORDS, record)}
      body={(values) => headOf(values, record)}
      onDone={({ code }) => go(addressOf(WORDS.place, code))}
    >
      <HeadFields record={record} codeHint="vessels, lines and locations share one space of codes" />
    </CommandForm>
  );
}

function Edit({ code }: { code: string | null }) {
  const query = server.useQuery('get', '/api/lines/{line}', { params: { path: { line: code ?? '' } } }, { enabled: code !== null });
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <LineForm record={record} />} />;
}

export const LINES: Book = { words: WORDS, List, Page: LinePage, Edit };
