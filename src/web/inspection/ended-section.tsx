import { Link } from 'wouter';
import { capital } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { View } from '../wire/client.js';
import { severityAddress } from './numbers-panel.js';
import { isDecided, stampOf, undecidedInWords } from './words.js';

type Inspection = View<'InspectionView'>;

/** How it ended, and what comes next. */
export function EndedSection({ of }: { of: Inspection }) {
  const { ended } = of;
  if (ended === null) return null;
  const refused = of.verdict === 'not-accepted';
  return (
    <Section title={capital(stampOf(of))} note={`${ended.by}, ${localWritten(ended.at)}`}>
      <ul className="standings">
        {ended.stricter === null ? null : <li className="urgent">Stricter than the plan: {ended.stricter}</li>}
        {ended.reason === null ? null : <li>{ended.reason}</li>}
        {of.classes.map((one) => (
          <li key={one.class}>
            <strong>{one.class}</strong>: {isDecided(one) ? one.because : undecidedInWords(of, one)}
          </li>
        ))}
        {of.failed.map((words) => (
          <li key={words} className="urgent">
            {words}
          </li>
        ))}
        {of.curtailed ? <li>Inspection stopped early, so this lot is left out of estimates of quality.</li> : null}
        {ended.switched.map((one) => (
          <li key={`${one.class} ${one.plan}`}>
            <strong>{one.class}</strong>, next lot:{' '}
            {one.before === one.after ? one.after : <span className="urgent">{`${one.before} becomes ${one.after}`}</span>}.{' '}
            {one.because.join('; ')} <Link href={severityAddress(of)}>See how it came about</Link>
          </li>
        ))}
      </ul>
      {of.holds.length === 0 ? null : (
        <p>
          Held by this inspection:{' '}
          {of.holds.map((hold, at) => (
            <span key={hold}>
              {at > 0 ? ', ' : ''}
              <Refer kind="hold" code={hold} />
            </span>
          ))}
        </p>
      )}
      <Next of={of} refused={refused} />
    </Section>
  );
}

function Next({ of, refused }: { of: Inspection; refused: boolean }) {
  const mayReport = useMay('inspector', 'quality');
  const quality = useMay('quality');
  return (
    <div className="row no-print">
      {refused && mayReport ? (
        <Link className="button primary" href={`/nonconformance/new?inspection=${encodeURIComponent(of.inspection)}`}>
          Raise a nonconformance report
        </Link>
      ) : null}
      {refused && quality ? (
        <Link className="button" href={`/inspection/new?lot=${encodeURIComponent(of.lot)}`}>
          Present it again
        </Link>
      ) : null}
      <Link className="button" href={`/lots/${encodeURIComponent(of.lot)}`}>
        Go to lot {of.lot}
      </Link>
    </div>
  );
}
