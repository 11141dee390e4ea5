import { Link, useSearch } from 'wouter';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Book, type Words } from './book.js';
import { EditPage } from './edit-page.js';
import { draftOfPlan } from './plan-draft.js';
import { PlanForm } from './plan-form.js';
import { PlanPreview } from './plan-preview-table.js';
import { instrumentInWords, limitsInWords, methodInWords, onWhat, planTold } from './plan-words.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

type Plan = View<'InspectionPlanView'>;

const WORDS: Words = {
  place: 'inspection-plans',
  many: 'Inspection plans',
  one: 'inspection plan',
  purpose: 'How an item is inspected: what is taken of a lot, what is looked at and measured, and when the lot is accepted.',
  kept: 'an inspection keeps the revision it was opened with',
};

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/inspection-plans')}
      columns={[
        {
          head: 'Sample',
          cell: ({ sampling }) => (sampling === null ? 'the lot as a whole' : `level ${sampling.level}, ${sampling.type}`),
        },
        { head: 'AQL', cell: ({ sampling }) => sampling?.classes.map((one) => `${one.class} ${one.aql}`).join(', ') ?? '' },
        { head: 'Characteristics', num: true, cell: ({ characteristics }) => characteristics.length },
        { head: 'Opens at', cell: ({ occasions }) => occasions.join(', ') },
      ]}
      teaches={
        <p>
          A plan has the code of its item. With one, every delivery, run or return of the item opens an inspection by itself; without one,
          quality decides alone.
        </p>
      }
    />
  );
}

function PlanPage({ code }: { code: string }) {
  const params = { params: { path: { item: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/inspection-plans/{item}', params)}
      history={server.useQuery('get', '/api/inspection-plans/{item}/history', params)}
      told={planTold}
      about={{ item: code }}
      aboutIn={`its item ${code}, the plan with it`}
    >
      {(plan) => (
        <>
          <p>
            For item <Refer kind="item" code={plan.code} />
          </p>
          {plan.sampling === null ? null : <PlanPreview sampling={draftOfPlan(plan).sampling!} />}
          <Characteristics plan={plan} />
        </>
      )}
    </RecordPage>
  );
}

function Characteristics({ plan }: { plan: Plan }) {
  const some = (told: (one: Plan['characteristics'][number]) => string): boolean => plan.characteristics.some((one) => told(one) !== '');
  const procedure = ({ procedure: number }: Plan['characteristics'][number]): string => number ?? '';
  return (
    <Section title="Characteristics" note="what is looked at on each item, and what is measured">
      <LedgerTable
        caption="Characteristics of the plan"
        rows={plan.characteristics}
        rowKey={({ code }) => code}
        columns={[
          { head: 'Code', cell: ({ code }) => <code>{code}</code> },
          { head: 'Name', cell: ({ name }) => name },
          { head: 'Class', cell: (one) => (one.class === 'critical' ? <span className="urgent">critical</span> : one.class) },
          { head: 'On', cell: onWhat },
          ...(some(limitsInWords) ? [{ head: 'Limits', cell: limitsInWords }] : []),
          {
            head: 'A result is',
            cell: ({ kind, compute, replicates, defect }) =>
              kind === 'measured' ? methodInWords(compute, replicates) : <DefectLink defect={defect} />,
          },
          ...(some(instrumentInWords) ? [{ head: 'Instrument', cell: instrumentInWords }] : []),
          ...(some(procedure) ? [{ head: 'Procedure', cell: procedure }] : []),
        ]}
        empty={<p className="quiet">None is named: items are judged by the plant’s list of defects.</p>}
      />
    </Section>
  );
}

const DefectLink = ({ defect }: { defect: string | undefined }) =>
  defect === undefined ? (
    <>met or not</>
  ) : (
    <>
      met, or{' '}
      <Link href={addressOf('defects', defect)} className="code">
        {defect}
      </Link>
    </>
  );

function Edit({ code }: { code: string | null }) {
  const item = new URLSearchParams(useSearch()).get('item') ?? '';
  const query = server.useQuery(
    'get',
    '/api/inspection-plans/{item}',
    { params: { path: { item: code ?? '' } } },
    { enabled: code !== null },
  );
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <PlanForm record={record} item={item} words={WORDS} />} />;
}

export const INSPECTION_PLANS: Book = { words: WORDS, List, Page: PlanPage, Edit };
