import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { LotsTabs } from './lots-tabs.js';
import { briefPieces, spansIn } from './words.js';
import './lot-page.css';

type Urgent = View<'UrgentReleaseView'>;

/** Lots that are used although something stands against them; each is open until quality closes it. */
export function UrgentReleasesPage() {
  const query = server.useQuery('get', '/api/urgent-releases');
  const [closing, setClosing] = useState<Urgent | null>(null);
  const mayClose = useMay('quality');
  return (
    <Answered query={query} what="the urgent releases">
      {(all) => {
        const open = all.filter(({ closedAt }) => closedAt === null);
        const closed = all.filter(({ closedAt }) => closedAt !== null);
        return (
          <Page
            title="Urgent releases"
            sub="Lots that may be used although they are in quarantine, expired or held. What is made from them is marked until the release is closed."
            facts={[
              { label: 'Open', value: writtenCount(open.length), warn: open.length > 0 },
              { label: 'Closed', value: writtenCount(closed.length) },
            ]}
          >
            <LotsTabs />
            <Section title="Open">
              <Table
                caption="Open urgent releases"
                releases={open}
                onClose={mayClose ? setClosing : null}
                empty="None is open. Quality opens one on the page of a lot that must be used before it is released, or although it is expired or held."
              />
            </Section>
            <Section title="Closed">
              <Table caption="Closed urgent releases" releases={closed} onClose={null} empty="None was closed yet." />
            </Section>
            {closing === null ? null : <Close release={closing} onDone={() => setClosing(null)} />}
          </Page>
        );
      }}
    </Answered>
  );
}

function Codes({ kind, codes }: { kind: 'lot' | 'shipment'; codes: readonly string[] }) {
  if (codes.length === 0) return <span className="quiet">none</span>;
  return (
    <>
      {codes.map((code) => (
        <span key={code}>
          <Refer kind={kind} code={code} />{' '}
        </span>
      ))}
    </>
  );
}

function Table({
  caption,
  releases,
  onClose,
  empty,
}: {
  caption: string;
  releases: readonly Urgent[];
  onClose: ((release: Urgent) => void) | null;
  empty: string;
}) {
  return (
    <LedgerTable
      caption={caption}
      rows={releases}
      rowKey={({ urgentRelease }) => urgentRelease}
      columns={[
        {
          head: 'Urgent release',
          cell: ({ urgentRelease, openedSeq }) => (
            <Refer kind="entry" code={`${openedSeq}`}>
              {urgentRelease}
            </Refer>
          ),
        },
        { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
        { head: 'Pieces', cell: ({ pieces }) => (pieces === null ? 'all of it' : briefPieces(spansIn(pieces))) },
        { head: 'Sets aside', cell: ({ setsAside }) => setsAside.join(', ') },
        { head: 'Reason', cell: ({ reason, closeReason }) => (closeReason === null ? reason : `${reason} — closed: ${closeReason}`) },
        { head: 'Signed', cell: ({ signedBy, openedAt }) => `${signedBy}, ${localWritten(openedAt)}` },
        { head: 'Marks', cell: ({ marks }) => <Codes kind="lot" codes={marks} /> },
        { head: 'Shipped under it', cell: ({ shipments }) => <Codes kind="shipment" codes={shipments} /> },
        {
          head: 'State',
          cell: (release) =>
            release.closedAt !== null ? (
              `closed ${localWritten(release.closedAt)} by ${release.closedBy}`
            ) : onClose === null ? (
              'open'
            ) : (
              <button type="button" onClick={() => onClose(release)}>
                Close …
              </button>
            ),
        },
      ]}
      empty={
        <Empty>
          <p>{empty}</p>
        </Empty>
      }
    />
  );
}

function Close({ release, onDone }: { release: Urgent; onDone: () => void }) {
  const { urgentRelease, lot, marks, shipments } = release;
  return (
    <Dialog title={`Close ${urgentRelease}`} onClose={onDone}>
      <p className="will">
        <code>{lot}</code> can then be used only as its own status allows. The marks on <strong>{writtenCount(marks.length)}</strong>{' '}
        {marks.length === 1 ? 'lot' : 'lots'} made from it go; <strong>{writtenCount(shipments.length)}</strong>{' '}
        {shipments.length === 1 ? 'shipment stays' : 'shipments stay'} listed with it.
      </p>
      <CommandForm
        path="/api/urgent-releases/{urgentRelease}/close"
        address={{ urgentRelease }}
        body={() => ({})}
        submit={`Close ${urgentRelease}`}
        signs={
          <>
            that urgent release <code>{urgentRelease}</code> of <code>{lot}</code> is closed
          </>
        }
        onDone={onDone}
        onCancel={onDone}
      />
    </Dialog>
  );
}
