import { useState } from 'react';
import { Link } from 'wouter';
import { writtenCount, writtenMoney } from '../../../shared/written.js';
import { instantOfLocal, localDate } from '../app/clock.js';
import { type Fact, Page } from '../design/page.js';
import { server } from '../wire/client.js';
import { Ageing } from './ageing.js';
import { CostFigures } from './cost-figures.js';
import type { Period } from './csv-link.js';
import { Overdue } from './overdue.js';
import { ParetoFigures } from './pareto-figures.js';
import { RightFirstTime } from './right-first-time.js';

interface Days {
  readonly from: string;
  readonly to: string;
}

/** What nonconformance tells the plant: what goes wrong most, what waits longest, what it costs. */
export function FiguresPage() {
  const [days, setDays] = useState<Days>({ from: '', to: '' });
  const period: Period = {
    ...(days.from === '' ? {} : { from: instantOfLocal(`${days.from}T00:00`) }),
    ...(days.to === '' ? {} : { to: instantOfLocal(`${days.to}T24:00`) }),
  };
  return (
    <Page
      crumb={<Link href="/nonconformance">Nonconformance</Link>}
      title="Figures"
      sub="What goes wrong most, what waits longest, what it costs, and how often it was right the first time."
      facts={useTotals(period)}
    >
      <PeriodChoice days={days} onDays={setDays} />
      <ParetoFigures period={period} />
      <CostFigures period={period} />
      <RightFirstTime period={period} />
      <Ageing />
      <Overdue />
    </Page>
  );
}

/** The same answers as the sections have, in four numbers. */
function useTotals(period: Period): Fact[] {
  const raised = server.useQuery('get', '/api/figures/nonconformance', { params: { query: { by: 'defect', ...period } } });
  const costs = server.useQuery('get', '/api/figures/costs', { params: { query: period } });
  const ageing = server.useQuery('get', '/api/figures/ageing');
  const overdue = server.useQuery('get', '/api/figures/overdue-actions');
  const late = overdue.data?.length ?? 0;
  return [
    { label: 'Raised in the period', value: raised.data ? writtenCount(raised.data.reports) : '…' },
    { label: `Cost (${costs.data?.currency ?? ''})`, value: costs.data ? writtenMoney(costs.data.totalMinor, costs.data.currency) : '…' },
    { label: 'Open today', value: ageing.data ? writtenCount(ageing.data.reports.length) : '…' },
    { label: 'Overdue today', value: overdue.data ? writtenCount(late) : '…', warn: late > 0 },
  ];
}

const PeriodChoice = ({ days, onDays }: { days: Days; onDays: (days: Days) => void }) => (
  <form className="nc-period no-print" onSubmit={(event) => event.preventDefault()} aria-label="Period">
    <div className="field">
      <label htmlFor="from">From</label>
      <input id="from" type="date" value={days.from} onChange={(event) => onDays({ ...days, from: event.target.value })} />
    </div>
    <div className="field">
      <label htmlFor="to">To, this day included</label>
      <input id="to" type="date" value={days.to} onChange={(event) => onDays({ ...days, to: event.target.value })} />
    </div>
    <button type="button" onClick={() => onDays({ from: `${localDate().slice(0, 4)}-01-01`, to: '' })}>
      This year
    </button>
    <button type="button" onClick={() => onDays({ from: '', to: '' })}>
      All time
    </button>
  </form>
);
