import { Link, useLocation, useSearch } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Empty, Page, Section } from '../design/page.js';
import { useScan } from '../scan/scans.js';
import { api, server, type View } from '../wire/client.js';
import { askedOf } from './found-code.js';
import { LineCard } from './line-card.js';
import { RunFilters, runFilterOf, RunsTable } from './runs-table.js';
import { UnitBox } from './unit-box.js';
import { VesselCard } from './vessel-card.js';

type Head = View<'RunHeadView'>;

/** What runs where, what is in each vessel, and every run there was. */
export function FloorPage() {
  const open = server.useQuery('get', '/api/runs', { params: { query: { state: 'open' } } }, { refetchInterval: 30_000 });
  const toExplain = server.useQuery('get', '/api/runs', { params: { query: { toExplain: 'true' } } });
  const mayStart = useMay('operator', 'administrator');
  useOpenByScan();
  return (
    <Page
      title="Production"
      sub="What runs in the vessels and on the lines, and every run there was. Scan a run, a vessel’s batch or a unit to open it."
      facts={[
        { label: 'Running', value: open.data === undefined ? '…' : writtenCount(open.data.length) },
        {
          label: 'To explain',
          value: toExplain.data === undefined ? '…' : writtenCount(toExplain.data.length),
          warn: (toExplain.data?.length ?? 0) > 0,
        },
      ]}
      actions={
        mayStart ? (
          <Link className="button primary big" href="/production/start">
            Start a run
          </Link>
        ) : undefined
      }
    >
      <Answered query={open} what="what runs">
        {(runs) => <Places runs={runs} />}
      </Answered>
      <Runs />
      <UnitBox />
    </Page>
  );
}

/** Opens what is scanned where that is a thing of the floor: a run, a vessel, a unit by its serial. */
function useOpenByScan(): void {
  const [, go] = useLocation();
  useScan((scan, text) => {
    const asked = askedOf(scan, text);
    if (asked === null) return false;
    void api.GET('/api/find', { params: { query: { ...asked } } }).then(
      async ({ data }) => {
        const exact = data?.found.filter((one) => one.exact) ?? [];
        const found = exact.find(({ kind }) => ['run', 'vessel', 'serial'].includes(kind)) ?? exact[0];
        if (found === undefined) return go(`/find?text=${encodeURIComponent(text.trim())}`);
        if (found.kind === 'run') return go(`/production/runs/${encodeURIComponent(found.code)}`);
        if (found.kind === 'vessel') return go(`/production/vessels/${encodeURIComponent(found.code)}`);
        if (found.kind === 'serial' && found.lot !== null) {
          const { data: lot } = await api.GET('/api/lots/{lot}', { params: { path: { lot: found.lot } } });
          if (lot !== undefined && lot.origin === 'made')
            return go(`/production/units/${encodeURIComponent(lot.item)}/${encodeURIComponent(found.code)}`);
        }
        return go(`/find?text=${encodeURIComponent(text.trim())}`);
      },
      () => undefined, // without a connection nothing can be looked up; the strip shows what was scanned
    );
    return true;
  });
}

/** Vessels first, then lines, then what runs at neither. */
function Places({ runs }: { runs: readonly Head[] }) {
  const vessels = server.useQuery('get', '/api/vessels', {}, { staleTime: 60_000 });
  const lines = server.useQuery('get', '/api/lines', {}, { staleTime: 60_000 });
  const elsewhere = runs.filter(({ vessel, line }) => vessel === null && line === null);
  return (
    <>
      <Section title="Vessels" note="what is in each now">
        <Answered query={vessels} what="the vessels">
          {(all) =>
            all.length === 0 ? (
              <Empty>
                <p>There is no vessel yet. Vessels are set up under Set-up; a batch is mixed in one.</p>
              </Empty>
            ) : (
              <div className="places-grid">
                {all.map((vessel) => (
                  <VesselCard key={vessel.code} vessel={vessel} />
                ))}
              </div>
            )
          }
        </Answered>
      </Section>
      <Section title="Lines" note="what runs on each now">
        <Answered query={lines} what="the lines">
          {(all) =>
            all.length === 0 ? (
              <Empty>
                <p>There is no line yet. Lines are set up under Set-up; cans are filled and units are built on one.</p>
              </Empty>
            ) : (
              <div className="places-grid">
                {all.map((line) => (
                  <LineCard key={line.code} code={line.code} name={line.name} runs={runs.filter((run) => run.line === line.code)} />
                ))}
                {elsewhere.length === 0 ? null : <LineCard code="" name="At no vessel and no line" runs={elsewhere} />}
              </div>
            )
          }
        </Answered>
      </Section>
    </>
  );
}

const MOST = 500;

function Runs() {
  const filter = runFilterOf(useSearch());
  const query = server.useQuery('get', '/api/runs', { params: { query: filter } });
  const note =
    query.data === undefined
      ? undefined
      : query.data.length === MOST
        ? `the latest ${MOST}`
        : `${writtenCount(query.data.length)} in this list`;
  return (
    <Section title="Runs" note={note} id="runs">
      <RunFilters filter={filter} />
      <Answered query={query} what="the runs">
        {(runs) => <RunsTable runs={runs} />}
      </Answered>
    </Section>
  );
}
