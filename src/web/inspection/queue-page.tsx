import { useState } from 'react';
import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay, useMe } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { type Column, LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { InspectionTabs } from './inspection-tabs.js';
import { lotSizeInWords, OCCASIONS, stampOf } from './words.js';

type Line = View<'QueuedInspectionView'>;

/** What waits to be inspected, is under way, or awaits its verdict: what presses first, then the oldest. */
export function QueuePage() {
  const query = server.useQuery('get', '/api/inspections');
  const mayAsk = useMay('quality');
  return (
    <Answered query={query} what="the queue">
      {(lines) => {
        const awaiting = lines.filter(awaitsVerdict);
        const facts = [
          { label: 'Open', value: writtenCount(lines.length) },
          { label: 'To begin', value: writtenCount(lines.filter(({ state }) => state === 'waiting').length) },
          { label: 'In progress', value: writtenCount(lines.filter(({ state }) => state === 'begun').length - awaiting.length) },
          { label: 'Awaiting verdict', value: writtenCount(awaiting.length), warn: awaiting.length > 0 },
        ];
        return (
          <Page
            title="Inspection"
            sub="What presses comes first, then the oldest."
            facts={facts}
            actions={
              mayAsk ? (
                <Link className="button" href="/inspection/new">
                  Ask for an inspection
                </Link>
              ) : undefined
            }
          >
            <InspectionTabs />
            <Queue lines={lines} />
            <Ended />
          </Page>
        );
      }}
    </Answered>
  );
}

const awaitsVerdict = ({ state, computed }: Line): boolean => state === 'begun' && computed !== null;

function Queue({ lines }: { lines: readonly Line[] }) {
  const { person } = useMe();
  const [mine, setMine] = useState(false);
  const [item, setItem] = useState('');
  const items = [...new Set(lines.map((line) => line.item))].toSorted();
  const wanted = lines.filter((line) => (!mine || line.people.includes(person)) && (item === '' || line.item === item));
  return (
    <>
      <div className="row end filters no-print">
        <div className="row" role="group" aria-label="Whose">
          <button type="button" aria-pressed={!mine} onClick={() => setMine(false)}>
            All
          </button>
          <button type="button" aria-pressed={mine} onClick={() => setMine(true)}>
            Mine
          </button>
        </div>
        <label className="field">
          Item
          <select value={item} onChange={(event) => setItem(event.target.value)}>
            <option value="">every item</option>
            {items.map((code) => (
              <option key={code}>{code}</option>
            ))}
          </select>
        </label>
      </div>
      {wanted.length === 0 ? <NothingWaits filtered={lines.length > 0} /> : null}
      <Part
        title="Awaiting verdict"
        note="everything the plan asks for is there, or it is certain already"
        lines={wanted.filter(awaitsVerdict)}
      />
      <Part
        title="In progress"
        note="begun, and not yet decided"
        lines={wanted.filter((line) => line.state === 'begun' && !awaitsVerdict(line))}
      />
      <Part title="To begin" note="nothing is written down before it begins" lines={wanted.filter(({ state }) => state === 'waiting')} />
    </>
  );
}

const COLUMNS: readonly Column<Line>[] = [
  { head: 'Inspection', cell: ({ inspection }) => <Refer kind="inspection" code={inspection} /> },
  { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
  { head: 'Item', cell: ({ item }) => <code>{item}</code> },
  { head: 'Opened', cell: ({ openedAt }) => localWritten(openedAt) },
  {
    head: 'Why',
    cell: ({ occasion, supplier }) => (
      <>
        {OCCASIONS[occasion] ?? occasion} {supplier === null ? null : <code>{supplier}</code>}
      </>
    ),
  },
  { head: 'Lot size', num: true, cell: lotSizeInWords },
  {
    head: 'Stands',
    cell: (line) => (
      <span className="wide">
        {line.urgent === null ? null : <strong className="urgent">Presses: {line.urgent}. </strong>}
        <Stands line={line} />
      </span>
    ),
  },
];

function Part({ title, note, lines }: { title: string; note: string; lines: readonly Line[] }) {
  if (lines.length === 0) return null;
  return (
    <Section title={`${title}: ${writtenCount(lines.length)}`} note={note}>
      <LedgerTable
        caption={`${title}, what presses first`}
        rows={lines}
        rowKey={({ inspection }) => inspection}
        rowClass={({ urgent }) => (urgent === null ? undefined : 'affected')}
        columns={COLUMNS}
      />
    </Section>
  );
}

function Stands({ line }: { line: Line }) {
  const { state, computed, toInspect, missing, people } = line;
  if (state === 'waiting') return <>waits</>;
  if (computed === 'not-accepted') return <span className="urgent">certain not to be accepted</span>;
  if (computed === 'accepted') return <>the plan accepts it</>;
  const left = [...((toInspect ?? 0) > 0 ? [`${writtenCount(toInspect ?? 0)} left to look at`] : []), ...missing];
  return (
    <>
      {left.slice(0, 2).join('; ') || 'under way'}
      {left.length > 2 ? ` and ${left.length - 2} more` : ''} <span className="quiet">({people.join(', ')})</span>
    </>
  );
}

function NothingWaits({ filtered }: { filtered: boolean }) {
  return (
    <Empty>
      {filtered ? (
        <p>Nothing of this kind waits. Take the filters off to see the rest.</p>
      ) : (
        <p>
          Nothing waits to be inspected. A delivery, a closed run and a return open their inspections by themselves, as the plan of each
          item says; plans are kept in <Link href="/set-up">Set-up</Link>. Quality can ask for one of any lot at any time.
        </p>
      )}
    </Empty>
  );
}

/** What ended lately: read when asked for. */
function Ended() {
  const [shown, setShown] = useState(false);
  return (
    <Section title="Ended" note="newest first" actions={<ShowEnded shown={shown} onShow={setShown} />}>
      {shown ? <EndedTable /> : <p className="quiet">Decided inspections are a press away, and on the page of each lot.</p>}
    </Section>
  );
}

function ShowEnded({ shown, onShow }: { shown: boolean; onShow: (shown: boolean) => void }) {
  return (
    <button type="button" aria-expanded={shown} onClick={() => onShow(!shown)}>
      {shown ? 'Hide what was decided' : 'Show what was decided'}
    </button>
  );
}

const MOST_SHOWN = 50;

function EndedTable() {
  const query = server.useQuery('get', '/api/inspections', { params: { query: { state: 'decided' } } });
  return (
    <Answered query={query} what="what was decided">
      {(lines) => (
        <LedgerTable
          caption={`Decided inspections, newest first: ${Math.min(lines.length, MOST_SHOWN)} of ${lines.length}`}
          rows={lines.slice(0, MOST_SHOWN)}
          rowKey={({ inspection }) => inspection}
          columns={[
            ...COLUMNS.slice(0, 3),
            { head: 'Ended', cell: ({ endedAt }) => (endedAt === null ? '' : localWritten(endedAt)) },
            { head: 'Verdict', cell: (line) => <Stamp word={stampOf(line)} small /> },
            { head: 'By', cell: ({ people }) => people.join(', ') },
          ]}
          empty={
            <Empty>
              <p>No inspection has been decided yet.</p>
            </Empty>
          }
        />
      )}
    </Answered>
  );
}
