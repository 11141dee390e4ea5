import { Link, useLocation } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Book, type Words } from './book.js';
import type { Told } from './changes.js';
import { CheckedField } from './checked-field.js';
import { glnFault } from './code-checks.js';
import { EditPage, HeadFields, headOf, submitWords } from './edit-page.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

type Party = View<'PartyView'>;

const WORDS: Words = {
  place: 'parties',
  many: 'Suppliers and customers',
  one: 'supplier or customer',
  purpose: 'Whom goods come from and go to: one step back and one step forward.',
  kept: 'deliveries and shipments keep the party they name',
};
const ROLES = [
  { value: 'supplier', says: 'supplier: goods come from them' },
  { value: 'customer', says: 'customer: goods go to them' },
  { value: 'both', says: 'both' },
] as const;

const told = (party: Party): Told[] => [
  { label: 'Role', text: party.role === 'both' ? 'supplier and customer' : party.role },
  { label: 'GLN', text: party.gln ?? '' },
  { label: 'Whom to tell in a recall', text: party.contact ?? '' },
];

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/parties')}
      columns={[
        { head: 'Role', cell: ({ role }) => role },
        { head: 'GLN', cell: ({ gln }) => (gln === null ? '' : <code>{gln}</code>) },
        { head: 'Whom to tell in a recall', cell: ({ contact }) => contact ?? <span className="urgent">nobody named</span> },
      ]}
      teaches={
        <p>
          A delivery names its supplier and a shipment its customer. Put in whom to tell in a recall now: it is what a recall needs first.
        </p>
      }
    />
  );
}

function PartyPage({ code }: { code: string }) {
  const params = { params: { path: { party: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/parties/{party}', params)}
      history={server.useQuery('get', '/api/parties/{party}/history', params)}
      told={told}
      about={{ party: code }}
    >
      {({ role, contact }) => (
        <Section title="Where they are named">
          <ul className="used">
            {role === 'customer' ? null : (
              <li>
                <Link href={`/lots?supplier=${encodeURIComponent(code)}`}>Lots they supplied</Link>
              </li>
            )}
            {contact === null ? <li className="urgent">Nobody is named whom to tell in a recall.</li> : null}
          </ul>
        </Section>
      )}
    </RecordPage>
  );
}

function PartyForm({ record }: { record: Party | null }) {
  const [, go] = useLocation();
  return (
    <CommandForm
      path="/api/parties"
      submit={submitWords(WORDS, record)}
      body={(values) => ({
        ...headOf(values, record),
        role: values.choice('/role'),
        gln: values.maybe('/gln'),
        contact: values.maybe('/contact'),
      })}
      onDone={({ code }) => go(addressOf(WORDS.place, code))}
    >
      <HeadFields record={record} />
      <div className="grid">
        <ChoiceField name="/role" label="Role" choices={ROLES} defaultValue={record?.role ?? 'supplier'} />
        <CheckedField
          name="/gln"
          label="GLN"
          check={glnFault}
          initial={record?.gln ?? ''}
          hint="13 digits; by it a scan finds them"
          right="its check digit is right"
        />
      </div>
      <TextField
        name="/contact"
        label="Whom to tell in a recall"
        maxLength={500}
        defaultValue={record?.contact ?? ''}
        hint="an address or a number that is answered, not a person’s private one"
      />
    </CommandForm>
  );
}

function Edit({ code }: { code: string | null }) {
  const query = server.useQuery('get', '/api/parties/{party}', { params: { path: { party: code ?? '' } } }, { enabled: code !== null });
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <PartyForm record={record} />} />;
}

export const PARTIES: Book = { words: WORDS, List, Page: PartyPage, Edit };
