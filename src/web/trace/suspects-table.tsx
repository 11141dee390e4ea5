import { Link } from 'wouter';
import type { Suspect, SuspectGroup, SuspectOdds, SuspectsAnswer } from '../../../shared/api/suspects.js';
import { writtenCount, writtenShare } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { suspectWords, traceOf } from './suspect-words.js';

/** So many of those that cannot be told apart are named at once. */
const NAMED = 3;

/** The ranking as a table: who, how many of the failed and of the sound ones, by how much, and whether chance explains it. */
export function SuspectsTable({ groups, totals }: { groups: readonly SuspectGroup[]; totals: SuspectsAnswer['totals'] }) {
  const sound = totals.pieces - totals.failed;
  return (
    <>
      <LedgerTable
        caption="Suspects, the most over-represented among the failed first"
        rows={groups}
        rowKey={({ suspects }) => suspects.map(({ kind, code, from }) => `${kind} ${code} ${from}`).join(' ')}
        rowClass={({ beyondChance }) => (beyondChance ? 'affected' : undefined)}
        columns={[
          { head: 'Rank', num: true, cell: ({ rank }) => rank },
          { head: 'Suspect', cell: ({ suspects }) => <Suspected suspects={suspects} /> },
          { head: 'Of the failed', num: true, cell: (group) => share(group.exposedFailed, totals.failed) },
          { head: 'Of the sound', num: true, cell: (group) => share(group.exposedSound, sound) },
          { head: 'By chance', num: true, cell: ({ expectedFailed }) => `${Number(expectedFailed.toPrecision(2))} failed` },
          { head: 'Odds of failing', num: true, cell: ({ odds }) => <Odds odds={odds} /> },
          { head: 'p, corrected', num: true, cell: ({ adjustedP }) => small(adjustedP) },
          { head: 'So', cell: ({ beyondChance }) => (beyondChance ? <strong>more than chance</strong> : 'may be chance') },
        ]}
      />
      <p className="quiet">
        Odds of failing: how many times as high for what is exposed, with the 95 % interval, which is not corrected. p is corrected by Holm
        for {writtenCount(totals.tested)} tests; at most 0.05 counts as more than chance.
      </p>
    </>
  );
}

const share = (part: number, whole: number) => (
  <>
    {writtenCount(part)} of {writtenCount(whole)}
    <br />
    <span className="quiet">{writtenShare(whole === 0 ? 0 : part / whole)}</span>
  </>
);

const small = (p: number): string => (p >= 0.001 ? `${Number(p.toPrecision(2))}` : p === 0 ? '< 1e-300' : p.toExponential(0));

const times = (value: number): string => (value >= 100 ? writtenCount(Math.round(value)) : `${Number(value.toPrecision(2))}`);

function Odds({ odds: { estimate, lower, upper } }: { odds: SuspectOdds }) {
  return (
    <>
      {estimate === null ? 'without end' : `× ${times(estimate)}`}
      <br />
      <span className="quiet">
        {times(lower)} to {upper === null ? 'no end' : times(upper)}
      </span>
    </>
  );
}

function Suspected({ suspects }: { suspects: readonly Suspect[] }) {
  const rest = suspects.slice(NAMED);
  return (
    <>
      {suspects.length > 1 ? <span className="quiet">{writtenCount(suspects.length)} that cannot be told apart:</span> : null}
      <Names suspects={suspects.slice(0, NAMED)} />
      {rest.length === 0 ? null : (
        <details>
          <summary className="suspects-more">and {writtenCount(rest.length)} more</summary>
          <Names suspects={rest} />
        </details>
      )}
    </>
  );
}

function Names({ suspects }: { suspects: readonly Suspect[] }) {
  return (
    <ul className="trace-plain-list suspects-names">
      {suspects.map((suspect) => {
        const href = traceOf(suspect);
        const words = suspectWords(suspect);
        return (
          <li key={`${suspect.kind} ${suspect.code} ${suspect.from}`}>
            <span>{words}</span>{' '}
            {href === null ? (
              <span className="quiet">no ground to decide about a person</span>
            ) : (
              <Link href={href} aria-label={`Trace it forward: ${words}`}>
                Trace it forward
              </Link>
            )}
          </li>
        );
      })}
    </ul>
  );
}
