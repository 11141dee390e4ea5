import { useState } from 'react';
import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Notice, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { LinkCorrection } from './link-correction.js';

type Recorded = View<'RecordedLinkView'>;
const linkKey = ({ seq, ord }: Pick<Recorded, 'seq' | 'ord'>): string => `${seq}.${ord}`;

/** The links of a making step, whether it has a run here or not. */
export function LinksPage({ code }: { code: string }) {
  const run = server.useQuery('get', '/api/runs/{run}', { params: { path: { run: code } } });
  if (run.isPending) return null;
  return <RecordedLinks code={code} hasRun={run.data !== undefined} />;
}

/** The links a making step recorded. For a step that has no run here, brought over from older records, they are put right by hand. */
export function RecordedLinks({ code, hasRun }: { code: string; hasRun: boolean }) {
  const query = server.useQuery('get', '/api/runs/{run}/links', { params: { path: { run: code } } });
  return (
    <Answered query={query} what={`the links of ${code}`}>
      {({ links }) => <Links code={code} links={links} hasRun={hasRun} />}
    </Answered>
  );
}

function Links({ code, links, hasRun }: { code: string; links: readonly Recorded[]; hasRun: boolean }) {
  const [voids, setVoids] = useState<ReadonlySet<string>>(new Set());
  const mayCorrect = useMay('operator', 'quality', 'administrator') && !hasRun;
  const standing = links.filter(({ voidSeq }) => voidSeq === null);
  const toggle = (key: string): void =>
    setVoids((before) => (before.has(key) ? new Set([...before].filter((one) => one !== key)) : new Set([...before, key])));
  return (
    <Page
      crumb={
        <>
          <Link href="/production">Production</Link> · links of a making step
        </>
      }
      title={code}
      sub={
        hasRun ? 'What went into what, as this run recorded it.' : 'A making step that has no run here: its links came from older records.'
      }
      facts={[
        { label: 'Links', value: writtenCount(standing.length) },
        { label: 'Voided', value: writtenCount(links.length - standing.length) },
      ]}
    >
      <div className="floor">
        {hasRun ? (
          <Notice>
            <p>
              This step has a run here: its links are put right{' '}
              <Link href={`/production/runs/${encodeURIComponent(code)}/correct`}>through the run</Link>, not past it.
            </p>
          </Notice>
        ) : null}
        <Section title="Links" note="what went into what">
          <LedgerTable
            caption={`Links of ${code}`}
            rows={links}
            rowKey={linkKey}
            rowClass={(link) => (voids.has(linkKey(link)) ? 'chosen' : undefined)}
            columns={[
              { head: 'Link', cell: (link) => <code>{linkKey(link)}</code> },
              { head: 'When', cell: ({ at }) => localWritten(at) },
              {
                head: 'From',
                cell: ({ from, fromPieces }) => (
                  <>
                    <Refer kind="lot" code={from} />
                    {fromPieces === null ? '' : ` ${fromPieces}`}
                  </>
                ),
              },
              {
                head: 'Into',
                cell: ({ to, toPieces }) => (
                  <>
                    <Refer kind="lot" code={to} />
                    {toPieces === null ? '' : ` ${toPieces}`}
                  </>
                ),
              },
              { head: 'Quantity', num: true, cell: ({ quantity }) => quantity },
              {
                head: 'State',
                cell: (link) =>
                  link.voidSeq !== null ? (
                    <>voided by entry {link.voidSeq}</>
                  ) : mayCorrect ? (
                    <label className="check">
                      <input type="checkbox" checked={voids.has(linkKey(link))} onChange={() => toggle(linkKey(link))} /> void it
                    </label>
                  ) : (
                    'stands'
                  ),
              },
            ]}
            empty={
              <Empty>
                <p>Nothing is recorded of a making step {code}. Codes are compared as they are written.</p>
              </Empty>
            }
          />
        </Section>
        {mayCorrect && links.length > 0 ? (
          <LinkCorrection code={code} links={links} voids={voids} onDone={() => setVoids(new Set())} />
        ) : null}
      </div>
    </Page>
  );
}
