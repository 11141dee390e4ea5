import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { Empty, Page } from '../design/page.js';
import { Refused } from '../design/refused.js';
import { useScan } from '../scan/scans.js';
import { problemOf } from '../wire/problem.js';
import { LotFilterForm } from './lot-filter-form.js';
import { useLotFilters } from './lot-filters.js';
import { LotList } from './lot-list.js';
import { LotsTabs } from './lots-tabs.js';
import { SerialHits } from './serial-hits.js';
import { useFirstLots } from './use-lot-rows.js';
import './lots.css';

const NOTHING = { query: '', item: '', class: '', supplier: '', origin: '', location: '', status: '' };

/** Find any lot, by any code that is on it. */
export function FindPage() {
  const [filters, change] = useLotFilters();
  const lots = useFirstLots(filters);
  const narrowed = Object.keys(filters).some((name) => name !== 'sort');
  const total = lots.data?.total ?? null;
  useScan((scan, text) => {
    if (scan.kind === 'faulty') return false;
    change({ query: (scan.kind === 'gs1' ? (scan.serial ?? scan.lot) : null) ?? text });
    return true;
  });
  return (
    <Page
      title="Lots"
      sub="Everything that was received or made, by its plant code, the supplier’s code or a serial."
      facts={[{ label: narrowed ? 'Lots found' : 'Lots', value: total === null ? '…' : writtenCount(total) }]}
    >
      <LotsTabs />
      <LotFilterForm filters={filters} onChange={change} />
      {filters.query === undefined ? null : <SerialHits text={filters.query} />}
      {lots.error ? (
        <div>
          <Refused problem={problemOf(lots.error)} />
          <button type="button" onClick={() => void lots.refetch()}>
            Try again
          </button>
        </div>
      ) : null}
      {total === 0 ? (
        <Nothing narrowed={narrowed} onAll={() => change(NOTHING)} />
      ) : (
        <LotList key={JSON.stringify(filters)} filters={filters} total={total ?? 0} />
      )}
    </Page>
  );
}

function Nothing({ narrowed, onAll }: { narrowed: boolean; onAll: () => void }) {
  if (!narrowed) {
    return (
      <Empty>
        <p>
          There is no lot yet. A delivery that is <Link href="/receiving">booked</Link> makes one for each of its lines, and a run that is
          closed makes one of what it yields.
        </p>
      </Empty>
    );
  }
  return (
    <Empty>
      <p>
        No lot is all of this at once. A code may be found in part, in upper or lower case; a supplier’s lot is found as it was typed in
        from the paper.
      </p>
      <button type="button" onClick={onAll}>
        Show all lots
      </button>
    </Empty>
  );
}
