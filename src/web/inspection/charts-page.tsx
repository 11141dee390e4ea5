import { useState } from 'react';
import { useLocation, useSearch } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { CodeField } from '../design/code-field.js';
import { useParties } from '../design/choices.js';
import { ChoiceField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Form } from '../design/form.js';
import { Empty, Page } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { Chart } from './chart.js';
import { InspectionTabs } from './inspection-tabs.js';

type Plan = View<'InspectionPlanView'>;
export type ChartKind = 'means' | 'individuals' | 'fraction' | 'count';

/** What a chart is of, as it stands in the address. */
export interface ChartAsked {
  readonly item: string;
  readonly chart: ChartKind;
  readonly characteristic: string;
  readonly supplier: string;
  readonly from: string;
  readonly to: string;
  readonly baseline: string;
}
const NAMES = ['item', 'chart', 'characteristic', 'supplier', 'from', 'to', 'baseline'] as const;

const KINDS: readonly { value: ChartKind; says: string }[] = [
  { value: 'means', says: 'mean and range of the readings' },
  { value: 'individuals', says: 'each result by itself' },
  { value: 'fraction', says: 'share of nonconforming items' },
  { value: 'count', says: 'count of nonconformities' },
];

const isMeasured = (kind: ChartKind): boolean => kind === 'means' || kind === 'individuals';

/** Control charts of what is measured and counted: whether a process is steady, and whether it can keep its limits. */
export function ChartsPage() {
  const search = new URLSearchParams(useSearch());
  const asked = Object.fromEntries(NAMES.map((name) => [name, search.get(name) ?? ''])) as unknown as ChartAsked;
  const { data: plans } = server.useQuery('get', '/api/inspection-plans', {}, { staleTime: 60_000 });
  return (
    <Page title="Control charts" sub="Whether a process is steady, and whether it can keep the limits of its plan.">
      <InspectionTabs />
      {plans === undefined ? null : <Choose key={search.toString()} asked={asked} plans={plans} />}
      {asked.item === '' ? <Ways plans={plans ?? []} /> : <Chart asked={asked} />}
    </Page>
  );
}

const addressOf = (asked: Partial<ChartAsked>): string =>
  `/inspection/charts?${new URLSearchParams(Object.entries(asked).filter(([, value]) => value !== '')).toString()}`;

function Choose({ asked, plans }: { asked: ChartAsked; plans: readonly Plan[] }) {
  const [, go] = useLocation();
  const suppliers = useParties('supplier');
  const [item, setItem] = useState(asked.item);
  const [kind, setKind] = useState<ChartKind>(asked.chart || 'means');
  const plan = plans.find(({ code }) => code === item);
  const measured = (plan?.characteristics ?? []).filter((one) => one.kind === 'measured');
  const submit = (values: FormValues): void =>
    go(
      addressOf({
        item,
        chart: kind,
        characteristic: isMeasured(kind) ? values.text('/characteristic') : '',
        supplier: values.text('/supplier'),
        from: values.text('/from'),
        to: values.text('/to'),
        baseline: values.text('/baseline'),
      }),
    );
  return (
    <div className="sheet ask no-print">
      <Form problem={null} label="Which chart" onSubmit={submit}>
        <div className="grid">
          <ChoiceField
            name="/item"
            label="Item"
            required
            none="choose"
            choices={plans.map(({ code, name }) => ({ value: code, says: `${code}, ${name}` }))}
            value={item}
            onChange={(event) => setItem(event.target.value)}
          />
          <ChoiceField
            name="/chart"
            label="What is charted"
            choices={KINDS}
            value={kind}
            onChange={(event) => setKind(event.target.value as ChartKind)}
          />
          {isMeasured(kind) ? (
            <ChoiceField
              key={item}
              name="/characteristic"
              label="Characteristic"
              required
              choices={measured.map(({ code, name }) => ({ value: code, says: name }))}
              defaultValue={asked.characteristic}
              none={measured.length === 0 ? 'this item measures nothing' : undefined}
            />
          ) : null}
          <CodeField name="/supplier" label="Supplier" hint="left out: all" choices={suppliers} initial={asked.supplier} />
          <TextField name="/from" label="From" type="date" defaultValue={asked.from} />
          <TextField name="/to" label="Before" type="date" defaultValue={asked.to} />
          <TextField
            name="/baseline"
            label="Limits from the first"
            inputMode="numeric"
            pattern="[1-9][0-9]*"
            title="a whole number of points"
            hint="points; left out: from all"
            defaultValue={asked.baseline}
          />
        </div>
        <div className="row">
          <button type="submit" className="primary">
            Draw the chart
          </button>
        </div>
      </Form>
    </div>
  );
}

/** An empty page teaches: every characteristic that can be charted, one press away. */
function Ways({ plans }: { plans: readonly Plan[] }) {
  const [, go] = useLocation();
  const measured = plans.flatMap((plan) =>
    plan.characteristics
      .filter((one) => one.kind === 'measured')
      .map((one) => ({ item: plan.code, code: one.code, name: one.name, replicates: one.replicates ?? 1 })),
  );
  return (
    <Empty>
      <p>{writtenCount(measured.length)} characteristics are measured by the plans of today. Choose one above, or press:</p>
      <div className="row">
        {measured.map(({ item, code, name, replicates }) => (
          <button
            key={`${item} ${code}`}
            type="button"
            onClick={() => go(addressOf({ item, chart: replicates > 1 ? 'means' : 'individuals', characteristic: code }))}
          >
            {item}: {name}
          </button>
        ))}
      </div>
    </Empty>
  );
}
