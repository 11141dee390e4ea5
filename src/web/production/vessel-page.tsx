import { useEffect } from 'react';
import { Link } from 'wouter';
import { parseQuantity } from '../../../shared/quantity.js';
import { capital } from '../../../shared/written.js';
import { localWritten, msOf } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, type Fact, Notice, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { amount } from './run.js';
import { elapsedWords } from './time-words.js';
import { usePlantClock } from './use-plant-clock.js';
import { contentInWords } from './vessel-card.js';
import { VesselForms } from './vessel-forms.js';
import { VesselPicture } from './vessel-picture.js';

type Content = View<'VesselContentView'>;
const MINUTE = 60_000;

/** What is in a vessel now, what clings to it, and everything that happened to it. */
export function VesselPage({ code }: { code: string }) {
  const content = server.useQuery('get', '/api/vessels/{vessel}/content', { params: { path: { vessel: code } } });
  const vessel = server.useQuery('get', '/api/vessels/{vessel}', { params: { path: { vessel: code } } }, { staleTime: 60_000 });
  return (
    <Answered query={content} what={`vessel ${code}`}>
      {(found) => <VesselRecord content={found} name={vessel.data?.name ?? code} capacity={vessel.data?.capacity ?? null} />}
    </Answered>
  );
}

function VesselRecord({ content, name, capacity }: { content: Content; name: string; capacity: string | null }) {
  const now = usePlantClock(MINUTE);
  const mayWork = useMay('operator', 'administrator');
  const { vessel } = content;
  const says = contentInWords(content, now);
  const full = content.content.reduce((sum, { quantity }) => sum + parseQuantity(quantity), 0);
  const ready = mayWork && content.openRun === null && content.leftBy === null;
  // A link to a part of the page leads there once the page is there.
  useEffect(() => {
    if (window.location.hash !== '') document.getElementById(window.location.hash.slice(1))?.scrollIntoView();
  }, []);
  return (
    <Page
      crumb={
        <>
          <Link href="/production">Production</Link> · vessel
        </>
      }
      title={`${name} (${vessel})`}
      sub={content.openRun !== null ? `${capital(says)}.` : `It ${says.startsWith('holds') ? says : `is ${says}`}.`}
      facts={[
        {
          label: 'Holds',
          value: content.content.length === 0 ? 'nothing' : content.content.map(({ quantity, unit }) => amount(quantity, unit)).join(' + '),
        },
        { label: 'Takes', value: capacity === null ? '–' : amount(capacity, 'kg') },
        sinceWhen(content, now),
      ]}
      actions={
        ready ? (
          <Link className="button primary big" href={`/production/start?kind=mixing&vessel=${encodeURIComponent(vessel)}`}>
            Start a batch here
          </Link>
        ) : undefined
      }
    >
      <div className="floor">
        <Section title="In it now">
          <div className="vessel-now">
            <VesselPicture content={full} capacity={capacity} says={`${name} ${says}`} batch={content.openRun !== null} />
            <Now content={content} />
          </div>
        </Section>
        {mayWork ? <VesselForms content={content} /> : null}
        <History content={content} />
        <Entries about={{ vessel }} />
      </div>
    </Page>
  );
}

/** What its state has lasted for: nothing is called clean while a batch is in it, or has left it and is not done. */
function sinceWhen({ openRun, leftBy, lastBatch, lastBatchAt, cleanedAt }: Content, now: number): Fact {
  if (openRun !== null) return { label: 'Runs in it', value: openRun };
  if (leftBy !== null) return { label: 'Not cleaned since', value: leftBy, warn: true };
  const since = lastBatchAt ?? cleanedAt;
  return { label: lastBatch === null ? 'Clean for' : 'Since that batch', value: since === null ? '–' : elapsedWords(now - msOf(since)) };
}

function Now({ content }: { content: Content }) {
  return (
    <div>
      {content.openRun === null ? null : (
        <p>
          <Refer kind="run" code={content.openRun} /> runs in it.
        </p>
      )}
      <LedgerTable
        caption="What is in the vessel"
        rows={content.content}
        rowKey={({ lot }) => lot}
        columns={[
          { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
          {
            head: 'What',
            cell: ({ name, item }) => (
              <>
                {name} <code className="quiet">{item}</code>
              </>
            ),
          },
          { head: 'How much', num: true, cell: ({ quantity, unit }) => amount(quantity, unit) },
        ]}
        empty={<p className="quiet">Nothing that is in stock.</p>}
      />
      {content.content.length > 0 ? (
        <Notice>
          <p>What is left when the next batch begins is its heel: it is charged to it, or taken out and recorded here.</p>
        </Notice>
      ) : content.leftBy !== null ? (
        <Notice>
          <p>
            <Refer kind="run" code={content.leftBy} /> was in it, went on elsewhere and still runs. What clings belongs to that batch, which
            has no name yet: clean it, or close the run, before another batch begins here.
          </p>
        </Notice>
      ) : content.lastBatch === null ? null : (
        <Notice>
          <p>
            <Refer kind="lot" code={content.lastBatch} /> was in it last and it was not cleaned since. What clings is linked to the next
            batch, with no quantity, until a cleaning is recorded.
          </p>
        </Notice>
      )}
    </div>
  );
}

const HAPPENED = { batch: 'A batch', emptied: 'Emptied', cleaned: 'Cleaned' } as const;

function History({ content }: { content: Content }) {
  return (
    <Section title="What happened to it" note="the latest 50, newest first">
      <LedgerTable
        caption={`History of ${content.vessel}`}
        rows={content.history}
        rowKey={({ seq, what }) => `${seq} ${what}`}
        columns={[
          { head: 'When', cell: ({ at }) => localWritten(at) },
          { head: 'What', cell: ({ what }) => HAPPENED[what] },
          { head: 'Batch', cell: ({ lot }) => (lot === null ? '' : <Refer kind="lot" code={lot} />) },
          { head: 'Run', cell: ({ run }) => (run === null ? '' : <Refer kind="run" code={run} />) },
          { head: 'How or why', cell: ({ detail }) => detail ?? '' },
          { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
        ]}
        empty={
          <Empty>
            <p>No batch was in it yet. The first run that yields in it stands here.</p>
          </Empty>
        }
      />
    </Section>
  );
}
