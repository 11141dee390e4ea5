import type { SuspectsAnswer } from '../../../shared/api/suspects.js';
import { writtenCount, writtenInstant } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { Caution, Facts, Section } from '../design/page.js';
import { SuspectBars } from '../pictures/suspect-bars.js';
import { server } from '../wire/client.js';
import { suspectWords } from './suspect-words.js';
import { SuspectsTable } from './suspects-table.js';
import { type Lists, readFailed, readPopulation } from './suspects-text.js';

/** So many are drawn; the table has all that were listed. */
const DRAWN = 12;

export function SuspectsAnswered({ lists }: { lists: Lists }) {
  const body = { failed: [...readFailed(lists.failed).read], population: [...readPopulation(lists.population).read] };
  const query = server.useQuery('post', '/api/trace/suspects', { body }, { staleTime: 60_000 });
  return (
    <Answered query={query} what="what they have in common">
      {(view) => <Ranked answer={view as unknown as SuspectsAnswer} />}
    </Answered>
  );
}

function Ranked({ answer }: { answer: SuspectsAnswer }) {
  const { totals, groups, everywhere, assumptions, caution, asKnownAt } = answer;
  const { seq, at } = asKnownAt;
  return (
    <>
      <div className="suspects-totals">
        <Facts
          facts={[
            { label: 'Pieces compared', value: writtenCount(totals.pieces) },
            { label: 'Failed', value: writtenCount(totals.failed), warn: true },
            { label: 'Candidates', value: writtenCount(totals.candidates) },
            { label: 'Told apart and tested', value: writtenCount(totals.tested) },
            { label: 'More than chance', value: writtenCount(totals.beyondChance), warn: totals.beyondChance > 0 },
          ]}
        />
      </div>
      <p className="trace-known" role="status">
        As known at entry {writtenCount(seq)}
        {at === null ? '' : `, ${writtenInstant(at)}`}. {verdict(totals.beyondChance)}
      </p>
      <Caution>
        <p>{caution}</p>
      </Caution>
      {groups.length === 0 ? null : (
        <>
          <Section title="Ranked" note={`the most over-represented first${groups.length > DRAWN ? `; the first ${DRAWN} are drawn` : ''}`}>
            <SuspectBars
              failed={totals.failed}
              sound={totals.pieces - totals.failed}
              groups={groups.slice(0, DRAWN)}
              nameOf={({ suspects: [first, ...more] }) =>
                first === undefined ? '' : `${suspectWords(first)}${more.length === 0 ? '' : ` and ${writtenCount(more.length)} more`}`
              }
            />
            <SuspectsTable groups={groups} totals={totals} />
          </Section>
        </>
      )}
      {everywhere.length === 0 ? null : (
        <details className="trace-evidence">
          <summary>{writtenCount(everywhere.length)} that every piece was exposed to: these failures say nothing about them</summary>
          <ul>
            {everywhere.map((one) => (
              <li key={`${one.kind} ${one.code} ${one.from}`}>{suspectWords(one)}</li>
            ))}
          </ul>
          <p>The sound pieces had them too. A wider comparison may tell.</p>
        </details>
      )}
      <details className="trace-evidence">
        <summary>What this takes for granted</summary>
        <ul>
          {assumptions.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
      </details>
    </>
  );
}

function verdict(beyondChance: number): string {
  if (beyondChance === 0) return 'Nothing stands out more than chance would have it.';
  return `${writtenCount(beyondChance)} ${beyondChance === 1 ? 'stands' : 'stand'} out more than chance would have it: look there first.`;
}
