import { Hazard } from '../design/hazard.js';
import { Link } from 'wouter';
import { Caution, Notice } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { isStamped, type Lot } from './lot.js';
import { partWords } from './words.js';

/** What whoever takes of the lot must know first. */
export function LotCautions({ lot, past }: { lot: Lot; past: boolean }) {
  const open = lot.reports.filter((report) => report.open);
  return (
    <>
      {past ? (
        <Notice>
          <p>
            This is how the lot stood at entry <Refer kind="entry" code={`${lot.asKnownAt}`} />, not how it stands now. Inspections,
            decisions, files and documents below are those of today.{' '}
            <Link href={`/lots/${encodeURIComponent(lot.lot)}`}>Show it as it stands now</Link>
          </p>
        </Notice>
      ) : null}
      <Hazard says={lot.hazard} />
      {lot.holds.map((hold) => (
        <Caution key={`${hold.hold} ${hold.lot} ${hold.pieces}`}>
          <p>
            <strong>Held</strong> by <Refer kind="hold" code={hold.hold} />, {partWords(hold, lot.unit)}: {hold.reason}
            {hold.inherited ? (
              <>
                {' '}
                (made from <Refer kind="lot" code={hold.lot} />)
              </>
            ) : null}
          </p>
        </Caution>
      ))}
      {open.map((report) => (
        <Caution key={report.report}>
          <p>
            <strong>Nonconforming</strong> by <Refer kind="report" code={report.report} />, {report.severity}, {report.state}:{' '}
            {partWords(report, lot.unit)}: {report.requirement}
          </p>
        </Caution>
      ))}
      {isStamped(lot, 'EXPIRED') ? (
        <Caution>
          <p>
            <strong>Expired.</strong> It can be neither used nor shipped, unless an urgent release sets that aside.
          </p>
        </Caution>
      ) : null}
      {lot.urgentReleases.map((release) => (
        <Caution key={release.urgentRelease}>
          <p>
            <strong>Urgent release</strong> <Link href="/lots/urgent-releases">{release.urgentRelease}</Link> is open on{' '}
            {partWords(release, lot.unit)}, signed by <code>{release.signedBy}</code>: {release.reason}. It sets aside that the lot is{' '}
            {release.setsAside.map((one) => (one === 'quarantine' ? 'in quarantine' : one)).join(' and ')}; everything made from it is
            marked.
          </p>
        </Caution>
      ))}
    </>
  );
}
