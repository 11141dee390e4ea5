import { Link, useLocation } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Book, type Words } from './book.js';
import type { Told } from './changes.js';
import { EditPage, HeadFields, headOf, submitWords } from './edit-page.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

type Defect = View<'DefectView'>;

const WORDS: Words = {
  place: 'defects',
  many: 'Defects',
  one: 'defect',
  purpose: 'The plant’s own list of what can be wrong. What is found is named by it, so that like is counted with like.',
  kept: 'inspections and reports keep the words they were written with',
};
const SEVERITIES = [
  { value: 'critical', says: 'critical: can hurt somebody' },
  { value: 'major', says: 'major: it fails its purpose' },
  { value: 'minor', says: 'minor: it hardly matters' },
] as const;

const told = ({ severity, note }: Defect): Told[] => [
  { label: 'Severity', text: SEVERITIES.find(({ value }) => value === severity)?.says ?? severity },
  { label: 'Remark', text: note ?? '' },
];

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/defects')}
      columns={[
        { head: 'Severity', cell: ({ severity }) => (severity === 'critical' ? <span className="urgent">critical</span> : severity) },
      ]}
      teaches={<p>Begin with what the plant has seen: dented, leaks, label wrong. Each has a severity; one critical piece stops a lot.</p>}
    />
  );
}

function DefectPage({ code }: { code: string }) {
  const params = { params: { path: { defect: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/defects/{defect}', params)}
      history={server.useQuery('get', '/api/defects/{defect}/history', params)}
      told={told}
      about={{ defect: code }}
    >
      {() => <LookedFor defect={code} />}
    </RecordPage>
  );
}

/** Inspection plans that look for a defect. */
function LookedFor({ defect }: { defect: string }) {
  const plans = server.useQuery('get', '/api/inspection-plans').data ?? [];
  const looking = plans.filter(({ characteristics }) => characteristics.some((one) => one.defect === defect));
  return (
    <Section title="Where it is looked for">
      {looking.length === 0 ? (
        <p className="quiet">No inspection plan looks for it by name. It can be found in any inspection all the same.</p>
      ) : (
        <ul className="used">
          {looking.map(({ code, name }) => (
            <li key={code}>
              <Link href={addressOf('inspection-plans', code)} className="code">
                {code}
              </Link>{' '}
              {name}
            </li>
          ))}
        </ul>
      )}
    </Section>
  );
}

function DefectForm({ record }: { record: Defect | null }) {
  const [, go] = useLocation();
  return (
    <CommandForm
      path="/api/defects"
      submit={submitWords(WORDS, record)}
      body={(values) => ({ ...headOf(values, record), severity: values.choice('/severity'), note: values.maybe('/note') })}
      onDone={({ code }) => go(addressOf(WORDS.place, code))}
    >
      <HeadFields record={record} />
      <ChoiceField
        name="/severity"
        label="Severity"
        choices={SEVERITIES}
        defaultValue={record?.severity ?? 'major'}
        hint="an inspection plan may judge it worse, never milder"
      />
      <TextAreaField name="/note" label="Remark" rows={2} defaultValue={record?.note ?? ''} hint="how to tell it from others" />
    </CommandForm>
  );
}

function Edit({ code }: { code: string | null }) {
  const query = server.useQuery('get', '/api/defects/{defect}', { params: { path: { defect: code ?? '' } } }, { enabled: code !== null });
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <DefectForm record={record} />} />;
}

export const DEFECTS: Book = { words: WORDS, List, Page: DefectPage, Edit };
