import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { CodeField } from '../design/code-field.js';
import { useItems, useParties } from '../design/choices.js';
import { Answered } from '../design/answered.js';
import { TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { writtenFigure } from '../pictures/plot-axis.js';
import { server, type View } from '../wire/client.js';
import { InspectionTabs } from './inspection-tabs.js';

type Row = View<'SupplierItemView'>;
interface Asked {
  readonly supplier?: string;
  readonly item?: string;
  readonly from?: string;
  readonly to?: string;
}

/** What is known of every supplier and item: verdicts, nonconforming per million with its interval, time to release. */
export function FiguresPage() {
  const [asked, setAsked] = useState<Asked>({});
  const query = server.useQuery('get', '/api/figures/suppliers', { params: { query: asked } });
  const csv = `/api/figures/suppliers.csv?${new URLSearchParams(Object.entries(asked)).toString()}`;
  return (
    <Page
      title="Suppliers in figures"
      sub="Also what is made here. Estimates leave out lots whose inspection was stopped early."
      actions={
        <a className="button" href={csv} download>
          The same as CSV
        </a>
      }
    >
      <InspectionTabs />
      <Ask onAsk={setAsked} />
      <Answered query={query} what="the figures">
        {(rows) => (
          <Section title={`${writtenCount(rows.length)} rows`} note={`${writtenCount(rows.reduce((sum, { lots }) => sum + lots, 0))} lots`}>
            <Figures rows={rows} />
          </Section>
        )}
      </Answered>
    </Page>
  );
}

function Ask({ onAsk }: { onAsk: (asked: Asked) => void }) {
  const items = useItems();
  const suppliers = useParties('supplier');
  return (
    <div className="sheet ask no-print">
      <Form
        problem={null}
        label="Which figures"
        onSubmit={(values) => {
          const day = (name: string) => (values.text(name) === '' ? undefined : `${values.text(name)}T00:00:00.000Z`);
          const chosen = { supplier: values.maybe('/supplier'), item: values.maybe('/item'), from: day('/from'), to: day('/to') };
          onAsk(Object.fromEntries(Object.entries(chosen).filter(([, value]) => value !== undefined)));
        }}
      >
        <div className="grid">
          <CodeField name="/supplier" label="Supplier" hint="left out: all" choices={suppliers} />
          <CodeField name="/item" label="Item" hint="left out: all" choices={items} />
          <TextField name="/from" label="Came in from" type="date" />
          <TextField name="/to" label="And before" type="date" />
        </div>
        <div className="row">
          <button type="submit">Show these</button>
        </div>
      </Form>
    </div>
  );
}

const hours = (value: number | null): string => (value === null ? '' : writtenFigure(value));

function Figures({ rows }: { rows: readonly Row[] }) {
  return (
    <LedgerTable
      caption="Suppliers and items in figures"
      rows={rows}
      rowKey={({ supplier, item }) => `${supplier} ${item}`}
      rowClass={({ notAccepted }) => (notAccepted > 0 ? 'affected' : undefined)}
      columns={[
        { head: 'Supplier', cell: ({ supplier }) => (supplier === null ? 'made here' : <Refer kind="supplier" code={supplier} />) },
        { head: 'Item', cell: ({ item }) => <Refer kind="item" code={item} /> },
        { head: 'Lots', num: true, cell: ({ lots }) => writtenCount(lots) },
        { head: 'Accepted', num: true, cell: ({ accepted }) => writtenCount(accepted) },
        {
          head: 'Not accepted',
          num: true,
          cell: ({ notAccepted }) => (notAccepted > 0 ? <strong className="urgent">{writtenCount(notAccepted)}</strong> : 0),
        },
        { head: 'Skipped, open', num: true, cell: ({ skipped, open }) => `${skipped}, ${open}` },
        {
          head: 'Nonconforming of inspected',
          num: true,
          cell: ({ itemsNonconforming, itemsInspected }) => `${writtenCount(itemsNonconforming)} of ${writtenCount(itemsInspected)}`,
        },
        {
          head: 'Per million (95 % interval)',
          num: true,
          cell: ({ nonconformingPerMillion }) => <PerMillion of={nonconformingPerMillion} />,
        },
        {
          head: 'Hours to release: median, longest',
          num: true,
          cell: (row) => [hours(row.medianHoursToRelease), hours(row.longestHoursToRelease)].filter(Boolean).join(', '),
        },
      ]}
      empty={
        <Empty>
          <p>Nothing came in or was made in this time.</p>
        </Empty>
      }
    />
  );
}

function PerMillion({ of }: { of: Row['nonconformingPerMillion'] }) {
  if (of === null) return <span className="quiet">nothing inspected</span>;
  return (
    <>
      {writtenCount(Math.round(of.estimate))}{' '}
      <span className="quiet">
        ({writtenCount(Math.round(of.lower))} to {writtenCount(Math.round(of.upper))})
      </span>
    </>
  );
}
