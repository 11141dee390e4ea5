import { useLocation } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { QuantityField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Book, type Words } from './book.js';
import type { Told } from './changes.js';
import { EditPage, HeadFields, headOf, submitWords } from './edit-page.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

type Vessel = View<'VesselView'>;

const WORDS: Words = {
  place: 'vessels',
  many: 'Vessels',
  one: 'vessel',
  purpose: 'What batches are mixed and kept in. What is left in one goes into the next batch, and is traced.',
  kept: 'runs keep the vessel they ran in',
};
const told = ({ capacity }: Vessel): Told[] => [{ label: 'Holds', text: capacity === null ? '' : `${capacity} kg` }];

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/vessels')}
      columns={[{ head: 'Holds (kg)', num: true, cell: ({ capacity }) => capacity ?? '' }]}
      teaches={
        <p>A batch is mixed in a vessel. Put in what it holds, and a charge that cannot be right is told apart from one that can.</p>
      }
    />
  );
}

function VesselPage({ code }: { code: string }) {
  const params = { params: { path: { vessel: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/vessels/{vessel}', params)}
      history={server.useQuery('get', '/api/vessels/{vessel}/history', params)}
      told={told}
      about={{ vessel: code }}
    >
      {() => (
        <Section title="Where it is used">
          <ul className="used">
            <li>
              <Refer kind="vessel" code={code}>
                What is in it now, and what was
              </Refer>
            </li>
          </ul>
        </Section>
      )}
    </RecordPage>
  );
}

function VesselForm({ record }: { record: Vessel | null }) {
  const [, go] = useLocation();
  return (
    <CommandForm
      path="/api/vessels"
      submit={submitWords(WORDS, record)}
      body={(values) => ({ ...headOf(values, record), capacity: values.maybe('/capacity') })}
      onDone={({ code }) => go(addressOf(WORDS.place, code))}
    >
      <HeadFields record={record} codeHint="vessels, lines and locations share one space of codes" />
      <QuantityField name="/capacity" label="Holds" unit="kg" defaultValue={record?.capacity ?? ''} hint="left empty: not known" />
    </CommandForm>
  );
}

function Edit({ code }: { code: string | null }) {
  const query = server.useQuery('get', '/api/vessels/{vessel}', { params: { path: { vessel: code ?? '' } } }, { enabled: code !== null });
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <VesselForm record={record} />} />;
}

export const VESSELS: Book = { words: WORDS, List, Page: VesselPage, Edit };
