import { useLocation } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { amount, RUN_KINDS } from './run.js';

export interface RunFilter {
  readonly state?: 'open' | 'closed';
  readonly kind?: (typeof RUN_KINDS)[number];
  readonly vessel?: string;
  readonly line?: string;
  readonly toExplain?: string;
}

/** What an address narrows the list to. */
export function runFilterOf(search: string): RunFilter {
  const asked = new URLSearchParams(search);
  const kind = RUN_KINDS.find((one) => one === asked.get('kind'));
  const state = (['open', 'closed'] as const).find((one) => one === asked.get('state'));
  const text = (name: 'vessel' | 'line' | 'toExplain') => (asked.get(name) ? { [name]: asked.get(name) } : {});
  return { ...(state ? { state } : {}), ...(kind ? { kind } : {}), ...text('vessel'), ...text('line'), ...text('toExplain') };
}

/** Narrows the list; the address says it too, so that it can be kept or sent to somebody. */
export function RunFilters({ filter }: { filter: RunFilter }) {
  const [, go] = useLocation();
  const vessels = server.useQuery('get', '/api/vessels', {}, { staleTime: 60_000 }).data ?? [];
  const lines = server.useQuery('get', '/api/lines', {}, { staleTime: 60_000 }).data ?? [];
  const change = (name: keyof RunFilter, value: string): void => {
    const next = new URLSearchParams({ ...filter });
    if (value === '') next.delete(name);
    else next.set(name, value);
    go(next.size === 0 ? '/production' : `/production?${next.toString()}`, { replace: true });
  };
  const choose = (name: keyof RunFilter, label: string, all: string, choices: readonly { value: string; says: string }[]) => (
    <label className="filter">
      <span>{label}</span>
      <select value={filter[name] ?? ''} onChange={(event) => change(name, event.target.value)}>
        <option value="">{all}</option>
        {choices.map(({ value, says }) => (
          <option key={value} value={value}>
            {says}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <div className="row end filters no-print">
      {choose('state', 'State', 'running and closed', [
        { value: 'open', says: 'running' },
        { value: 'closed', says: 'closed' },
      ])}
      {choose(
        'kind',
        'Kind',
        'every kind',
        RUN_KINDS.map((kind) => ({ value: kind, says: kind })),
      )}
      {choose(
        'vessel',
        'Vessel',
        'any',
        vessels.map(({ code, name }) => ({ value: code, says: `${code} ${name}` })),
      )}
      {choose(
        'line',
        'Line',
        'any',
        lines.map(({ code, name }) => ({ value: code, says: `${code} ${name}` })),
      )}
      <label className="check">
        <input
          type="checkbox"
          checked={filter.toExplain === 'true'}
          onChange={(event) => change('toExplain', event.target.checked ? 'true' : '')}
        />
        only what is to be explained
      </label>
    </div>
  );
}

type Head = View<'RunHeadView'>;

export function RunsTable({ runs }: { runs: readonly Head[] }) {
  const open = runs.filter(({ state }) => state === 'open').length;
  return (
    <>
      {runs.length === 0 ? null : (
        <p className="quiet">
          {writtenCount(open)} running, {writtenCount(runs.length - open)} closed,{' '}
          {writtenCount(runs.filter(({ toExplain }) => toExplain).length)} to explain
        </p>
      )}
      <LedgerTable
        caption="Runs, running ones first, then the latest"
        rows={runs}
        rowKey={({ run }) => run}
        columns={[
          { head: 'Run', cell: ({ run }) => <Refer kind="run" code={run} /> },
          {
            head: 'What',
            cell: ({ kind, name, item }) => (
              <>
                {kind} · {name} <code className="quiet">{item}</code>
              </>
            ),
          },
          { head: 'State', cell: (run) => <State run={run} /> },
          { head: 'Where', cell: ({ vessel, line }) => <code>{vessel ?? line ?? ''}</code> },
          { head: 'Planned', num: true, cell: ({ planned, unit }) => (planned === null ? '' : amount(planned, unit)) },
          { head: 'Made', cell: ({ lot }) => (lot === null ? '' : <Refer kind="lot" code={lot} />) },
          { head: 'Began', cell: ({ startedAt }) => localWritten(startedAt) },
        ]}
        empty={
          <Empty>
            <p>
              No run is like that. A run is one making step: it is started here, lots are charged to it, and it is closed with what came
              out.
            </p>
          </Empty>
        }
      />
    </>
  );
}

export function State({ run }: { run: Pick<Head, 'state' | 'toExplain'> }) {
  if (run.toExplain) return <Stamp word="To explain" small />;
  return run.state === 'open' ? <Stamp word="Running" small /> : <span className="quiet">closed</span>;
}
