import { Link } from 'wouter';
import { inWords, writtenCount, writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMe } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Empty, Page, Section } from '../design/page.js';
import { type Kind, PLACE_OF, Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { FirstSteps } from './first-steps.js';
import './today.css';

type Group = View<'TodayGroupView'>;
type Line = View<'TodayLineView'>;

/** Often enough to be of today, seldom enough not to be noticed. */
const READ_EVERY_MS = 60_000;

/** Where the whole of a group stands, beyond the lines that are listed. */
const LISTED_IN: Readonly<Partial<Record<Group['kind'], string>>> = {
  recalls: '/recall',
  reports: '/nonconformance',
  inspections: '/inspection',
  returns: '/dispatch/returns',
  holds: '/lots/holds',
  instruments: '/inspection/instruments',
  runs: '/production',
  deliveries: '/receiving',
};

/** The step of a report that a line is about; the page opens what is due by itself. */
const STEP_OF: Readonly<Record<string, string>> = { action: '#learning', disposition: '#dispositions' };

/** Where a next step is taken. */
function addressOf({ kind, step: { place, code } }: Pick<Line, 'kind' | 'step'>): string {
  if (place === 'inspection-of') return `/inspection/new?lot=${encodeURIComponent(code)}`;
  const base = place in PLACE_OF ? PLACE_OF[place as Kind] : place === 'return' ? PLACE_OF.returned : '/lots';
  return `${base}/${encodeURIComponent(code)}${STEP_OF[kind] ?? ''}`;
}

/** What waits for this person, oldest first; each with its next step one press away. */
export default function Today() {
  const me = useMe();
  const query = server.useQuery('get', '/api/today', {}, { refetchInterval: READ_EVERY_MS });
  return (
    <Answered query={query} what="what waits">
      {({ groups, now, entries }) => {
        const waiting = groups.reduce((all, { total }) => all + total, 0);
        const overdue = groups.flatMap(({ lines }) => lines).filter((line) => line.overdue).length;
        return (
          <Page
            title="Today"
            sub={`${me.displayName ?? me.person}, ${inWords(me.roles.join(', '))}. ${localWritten(now)}, at entry ${writtenCount(entries)} of the ledger.`}
            facts={[
              { label: 'Waiting', value: writtenCount(waiting) },
              { label: 'Overdue', value: writtenCount(overdue), warn: overdue > 0 },
            ]}
          >
            {groups.length === 0 ? (
              <Empty>
                <p>Nothing waits for you. What needs you next will stand here, oldest first.</p>
              </Empty>
            ) : (
              groups.map((group) => <Waiting key={group.kind} group={group} />)
            )}
            {entries < 30 ? <FirstSteps /> : null}
          </Page>
        );
      }}
    </Answered>
  );
}

function Waiting({ group }: { group: Group }) {
  const more = group.total - group.lines.length;
  return (
    <Section
      title={group.title}
      note={
        group.oldestAt === null
          ? writtenCount(group.total)
          : `${writtenCount(group.total)}, the oldest since ${localWritten(group.oldestAt)}`
      }
    >
      <ol className="waiting">
        {group.lines.map((line) => (
          <li key={`${line.kind} ${line.code} ${line.step.label}`}>
            <span className="what">
              {line.kind === 'recall' && line.says.startsWith('DRILL') ? <Stamp word="Drill" small /> : null}
              {line.says.replace(/^DRILL: /u, '')}
              {line.lot === null || line.says.includes(line.lot) ? null : (
                <>
                  {' '}
                  <Refer kind="lot" code={line.lot} />
                </>
              )}
            </span>
            <span className="marks">
              {line.mine ? <strong>yours</strong> : null}
              <Due line={line} />
            </span>
            <Link className="button" href={addressOf(line)}>
              {line.step.label}
            </Link>
          </li>
        ))}
      </ol>
      {more > 0 ? <More count={more} of={group.kind} /> : null}
    </Section>
  );
}

/** What is past its day is stamped; stock is not late but expired. */
function Due({ line: { kind, overdue, due } }: { line: Line }) {
  if (overdue) return <Stamp word={kind === 'lot' ? 'Expired' : 'Overdue'} small />;
  return due === null ? null : <span className="quiet">due {writtenDate(due)}</span>;
}

function More({ count, of }: { count: number; of: Group['kind'] }) {
  const place = LISTED_IN[of];
  return (
    <p className="quiet">
      and {writtenCount(count)} more
      {place === undefined ? (
        ''
      ) : (
        <>
          : <Link href={place}>see them all</Link>
        </>
      )}
    </p>
  );
}
