import { Link } from 'wouter';
import { inWords } from '../../../shared/written.js';
import { localWritten, plantInstant } from '../app/clock.js';
import { useSession } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { type BuiltRow, builtRows } from './built-rows.js';

type Record = View<'BuildRecordView'>;
type Part = View<'BuiltPartView'>;

/** The build record of one unit: what it should be built of, what it was built of, and what is in it now. It prints as one page. */
export function UnitPage({ item, serial }: { item: string; serial: string }) {
  const query = server.useQuery('get', '/api/units/{item}/{serial}/build-record', { params: { path: { item, serial } } });
  return (
    <Answered query={query} what={`the build record of ${serial}`}>
      {(record) => <BuildRecord record={record} />}
    </Answered>
  );
}

function BuildRecord({ record }: { record: Record }) {
  const design = useDesign(record);
  const { plant } = useSession();
  const rows = builtRows(design?.lines ?? [], record.asBuilt, record.asIs);
  return (
    <Page
      crumb={
        <>
          <Link href="/production">Production</Link> · build record
        </>
      }
      title={record.serial}
      name={`Build record ${record.serial}`}
      stamps={<Stamp word={inWords(record.status).toUpperCase()} />}
      sub={
        <>
          {record.name} <Refer kind="item" code={record.item} />, piece {record.piece} of lot <Refer kind="lot" code={record.lot} />, built{' '}
          {localWritten(record.builtAt)} in <Refer kind="run" code={record.run} /> by {record.builtBy.join(', ')}
        </>
      }
      facts={[
        { label: 'Parts', value: record.asIs.length },
        { label: 'Replaced', value: record.replaced.length, warn: record.replaced.length > 0 },
        { label: 'It is', value: placeInWords(record.place) },
      ]}
      actions={
        <button type="button" onClick={() => window.print()}>
          Print it
        </button>
      }
    >
      <p className="only-print">
        {plant}, build record, printed {localWritten(plantInstant())}
      </p>
      <div className="floor build-record">
        <Section
          title="As designed, as built, as it is"
          note={design === null ? 'the run followed no bill of materials' : `by ${design.code} rev. ${design.revision}`}
        >
          <LedgerTable
            caption={`Parts of ${record.serial}`}
            rows={rows}
            rowKey={({ item }) => item}
            rowClass={({ changed }) => (changed ? 'affected' : undefined)}
            columns={[
              {
                head: 'Part',
                cell: ({ name, item }) => (
                  <>
                    {name} <code className="quiet">{item}</code>
                  </>
                ),
              },
              { head: 'Designed', num: true, cell: ({ designed }) => designed ?? 'not in it' },
              { head: 'Built in', cell: ({ built }) => <Parts parts={built} /> },
              { head: 'In it now', cell: (row) => <Now row={row} /> },
            ]}
          />
        </Section>
        {record.replaced.length === 0 ? null : (
          <Section title="What was replaced">
            <LedgerTable
              caption={`Parts replaced in ${record.serial}`}
              rows={record.replaced}
              rowKey={({ seq }) => `${seq}`}
              columns={[
                { head: 'When', cell: ({ at }) => localWritten(at) },
                { head: 'Part', cell: ({ item }) => <code>{item}</code> },
                {
                  head: 'Out',
                  cell: ({ oldSerial, oldLot, oldPiece }) => (
                    <>
                      {oldSerial ?? (oldPiece === null ? '' : `piece ${oldPiece} of`)} <Refer kind="lot" code={oldLot} />
                    </>
                  ),
                },
                {
                  head: 'In',
                  cell: ({ newSerial, newLot, newPiece }) => (
                    <>
                      {newSerial ?? (newPiece === null ? '' : `piece ${newPiece} of`)} <Refer kind="lot" code={newLot} />
                    </>
                  ),
                },
                { head: 'Why', cell: ({ reason }) => reason },
                {
                  head: 'By, in',
                  cell: ({ by, run }) => (
                    <>
                      <code>{by}</code>, <Refer kind="run" code={run} />
                    </>
                  ),
                },
                { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
              ]}
            />
          </Section>
        )}
        {record.label === null ? null : (
          <p>
            On its label: <q>{record.label}</q>
          </p>
        )}
        <p className="quiet no-print">
          <Link href={`/trace?item=${encodeURIComponent(record.item)}&serial=${encodeURIComponent(record.serial)}`}>Trace this unit</Link>
        </p>
      </div>
    </Page>
  );
}

/** `on-hand FG-1` as people say it: the fate, and where. */
const placeInWords = (place: string): string => {
  const [fate = '', ...where] = place.split(' ');
  return `${inWords(fate)}${where.length === 0 ? '' : fate === 'on-hand' ? ` at ${where.join(' ')}` : `, ${where.join(' ')}`}`;
};

/** The bill of materials the unit's run followed, in the revision of that day. */
function useDesign({ run }: Record): View<'BomView'> | null {
  const made = server.useQuery('get', '/api/runs/{run}', { params: { path: { run } } }).data;
  const bom = made?.bom ?? null;
  const history = server.useQuery(
    'get',
    '/api/boms/{bom}/history',
    { params: { path: { bom: bom ?? '' } } },
    { enabled: bom !== null },
  ).data;
  return history?.find(({ revision }) => revision === made?.bomRevision)?.record ?? null;
}

function Parts({ parts }: { parts: readonly Part[] }) {
  if (parts.length === 0) return <span className="urgent">nothing recorded</span>;
  return (
    <ul className="parts">
      {parts.map((part) => (
        <li key={`${part.lot} ${part.piece} ${part.seq}`}>
          {part.serial === null ? null : <strong className="code">{part.serial} </strong>}
          {part.serial === null && part.piece !== null ? `piece ${part.piece} of ` : part.serial === null ? '' : 'of '}
          <Refer kind="lot" code={part.lot} />
          {part.anyOf === null ? null : <span className="quiet"> any of {part.anyOf}</span>}
          {part.supplier === null ? null : (
            <span className="quiet">
              {' '}
              {part.supplier} {part.supplierLot}
            </span>
          )}
          {part.mayStillHold === null ? null : <span className="quiet"> may still hold {part.mayStillHold}</span>}
        </li>
      ))}
    </ul>
  );
}

function Now({ row }: { row: BuiltRow }) {
  if (!row.changed) return <span className="quiet">the same</span>;
  return <Parts parts={row.now} />;
}
