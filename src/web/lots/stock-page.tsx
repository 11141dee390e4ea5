import { useLocation, useSearch } from 'wouter';
import { parseQuantity } from '../../../shared/quantity.js';
import { writtenCount, writtenDate } from '../../../shared/written.js';
import { localDate } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { useItems, useLocations } from '../design/choices.js';
import type { Choice } from '../design/code-field.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { LotsTabs } from './lots-tabs.js';
import { StampsInList } from './stamps-in-list.js';
import { amount, amountOf, briefPieces, spansIn } from './words.js';
import './lots.css';

type Line = View<'StockLineView'>;

/** What is on hand, item by item, what expires first standing first. */
export function StockPage() {
  const search = useSearch();
  const [, go] = useLocation();
  const asked = new URLSearchParams(search);
  const item = asked.get('item') ?? '';
  const location = asked.get('location') ?? '';
  const query = server.useQuery('get', '/api/stock', {
    params: { query: { ...(item === '' ? {} : { item }), ...(location === '' ? {} : { location }) } },
  });
  const items = useItems();
  const locations = useLocations();
  const change = (name: string, value: string): void => {
    if (value === '') asked.delete(name);
    else asked.set(name, value);
    go(`/lots/stock${asked.size === 0 ? '' : `?${asked.toString()}`}`, { replace: true });
  };
  return (
    <Answered query={query} what="the stock">
      {(lines) => (
        <Page
          title="Stock on hand"
          sub="By item and location; what expires first stands first, then what came first."
          facts={[
            { label: 'Items', value: writtenCount(new Set(lines.map((line) => line.item)).size) },
            { label: 'Lots', value: writtenCount(new Set(lines.map((line) => line.lot)).size) },
            { label: 'Expired', value: writtenCount(lines.filter(isExpired).length), warn: lines.some(isExpired) },
          ]}
        >
          <LotsTabs />
          <form className="lot-filters no-print" aria-label="Stock" onSubmit={(event) => event.preventDefault()}>
            <Choose label="Item" none="all items" choices={items} value={item} onChange={(value) => change('item', value)} />
            <Choose
              label="Location"
              none="all locations"
              choices={locations}
              value={location}
              onChange={(value) => change('location', value)}
            />
          </form>
          {lines.length === 0 ? (
            <Empty>
              <p>Nothing is on hand here. What a delivery or a run brings stands at its location until it is used, shipped or scrapped.</p>
            </Empty>
          ) : (
            <div className="stock-items">
              {byItem(lines).map(([code, of]) => (
                <ItemStock key={code} item={code} name={items.find((one) => one.code === code)?.says ?? ''} lines={of} />
              ))}
            </div>
          )}
        </Page>
      )}
    </Answered>
  );
}

const isExpired = ({ expiresOn }: Line): boolean => expiresOn !== null && expiresOn < localDate();

function byItem(lines: readonly Line[]): [string, Line[]][] {
  const items = new Map<string, Line[]>();
  for (const line of lines) items.set(line.item, [...(items.get(line.item) ?? []), line]);
  return [...items];
}

function ItemStock({ item, name, lines }: { item: string; name: string; lines: readonly Line[] }) {
  const unit = lines[0]?.unit ?? '';
  const total = lines.reduce((sum, { quantity }) => sum + parseQuantity(quantity), 0);
  return (
    <Section
      title={`${item} ${name}`}
      note={`${amount(total, unit)} in ${writtenCount(lines.length)} ${lines.length === 1 ? 'place' : 'places'}`}
    >
      <LedgerTable
        caption={`${item} on hand, what expires first standing first`}
        rows={lines}
        rowKey={({ lot, location }) => `${lot} ${location}`}
        rowClass={(line) => (isExpired(line) ? 'affected' : undefined)}
        columns={[
          { head: 'Location', cell: ({ location }) => <Refer kind="location" code={location} /> },
          { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
          {
            head: 'Expires',
            cell: ({ expiresOn }) => (expiresOn === null ? <span className="quiet">does not</span> : writtenDate(expiresOn)),
          },
          {
            head: 'Status',
            cell: (line) => <StampsInList stamps={line.stamps} of={line.pieces === null ? null : spansIn(line.pieces)} unit={line.unit} />,
          },
          { head: 'Pieces', cell: ({ pieces }) => (pieces === null ? '' : briefPieces(spansIn(pieces))) },
          { head: 'Quantity', num: true, cell: ({ quantity }) => amountOf(quantity, unit) },
        ]}
      />
    </Section>
  );
}

function Choose({
  label,
  none,
  choices,
  value,
  onChange,
}: {
  label: string;
  none: string;
  choices: readonly Choice[];
  value: string;
  onChange: (value: string) => void;
}) {
  const id = `stock-${label.toLowerCase()}`;
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        <option value="">{none}</option>
        {choices.map(({ code, says }) => (
          <option key={code} value={code}>
            {code} {says}
          </option>
        ))}
      </select>
    </div>
  );
}
