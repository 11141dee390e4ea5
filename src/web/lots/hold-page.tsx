import { useState } from 'react';
import { Link } from 'wouter';
import { writtenCount, writtenPieces } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { Entries } from '../design/entries.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { amountOf, briefPieces, fateWords, spansIn } from './words.js';
import './lot-page.css';

type Hold = View<'HoldReachView'>;
type Part = Hold['held'][number];

/** One hold: why, on what, how far it reaches at this moment, and where all of that is. */
export function HoldPage({ hold: code }: { hold: string }) {
  const query = server.useQuery('get', '/api/holds/{hold}', { params: { path: { hold: code } } });
  return (
    <Answered query={query} what={`hold ${code}`}>
      {(hold) => <Record hold={hold} />}
    </Answered>
  );
}

function Record({ hold }: { hold: Hold }) {
  const mayLift = useMay('quality');
  const [lifting, setLifting] = useState(false);
  const isOpen = hold.liftedAt === null;
  return (
    <Page
      crumb={<Link href="/lots/holds">Holds</Link>}
      title={<span className="code">{hold.hold}</span>}
      name={`Hold ${hold.hold}`}
      stamps={isOpen ? <Stamp word="Held" /> : <Stamp word="Lifted" />}
      sub={
        <>
          Placed {localWritten(hold.placedAt)} by <code>{hold.placedBy}</code>, owned by <code>{hold.owner}</code>: {hold.reason}
          {hold.liftedAt === null ? null : (
            <>
              . Lifted {localWritten(hold.liftedAt)} by <code>{hold.liftedBy}</code>: {hold.liftReason}
            </>
          )}
        </>
      }
      facts={[
        { label: 'Lots held', value: writtenCount(new Set(hold.parts.map(({ lot }) => lot)).size) },
        { label: 'Lots made from them', value: writtenCount(hold.reachedLots), warn: isOpen && hold.reachedLots > 0 },
        { label: 'Pieces made from them', value: writtenCount(hold.reachedPieces), warn: isOpen && hold.reachedPieces > 0 },
      ]}
      actions={
        isOpen && mayLift ? (
          <button type="button" onClick={() => setLifting(true)}>
            Lift the hold …
          </button>
        ) : null
      }
    >
      <Where hold={hold} />
      <Section title="Held" note="the parts that the hold names, where they are">
        <PartTable caption={`What ${hold.hold} holds`} parts={hold.held} />
      </Section>
      <Section
        title="Made from it"
        note={hold.reaches ? `${writtenCount(hold.reachedLots)} lots, by where they are` : 'this hold does not stop what was made from it'}
      >
        <PartTable caption={`What was made from what ${hold.hold} holds`} parts={hold.reached} />
      </Section>
      <Entries about={{ hold: hold.hold }} />
      {lifting ? <Lift hold={hold} onClose={() => setLifting(false)} /> : null}
    </Page>
  );
}

function Where({ hold }: { hold: Hold }) {
  return (
    <Section title="Where all of it is" note="held and made from it, together">
      <LedgerTable
        caption="Held and reached parts by where they are"
        rows={hold.where}
        rowKey={({ where }) => where}
        columns={[
          { head: 'Where', cell: ({ where }) => where },
          { head: 'Lots', num: true, cell: ({ lots }) => writtenCount(lots) },
          { head: 'Pieces', num: true, cell: ({ pieces }) => writtenCount(pieces) },
          {
            head: 'Customers',
            cell: ({ customers }) =>
              customers.map((customer) => (
                <span key={customer}>
                  <Refer kind="customer" code={customer} />{' '}
                </span>
              )),
          },
        ]}
        empty={
          <Empty>
            <p>Nothing of it is anywhere any more.</p>
          </Empty>
        }
      />
    </Section>
  );
}

const MOST = 100;

function PartTable({ caption, parts }: { caption: string; parts: readonly Part[] }) {
  const [all, setAll] = useState(false);
  const shown = all ? parts : parts.slice(0, MOST);
  return (
    <>
      <LedgerTable
        caption={caption}
        rows={shown}
        rowKey={({ lot, fate, at, pieces }) => `${lot} ${fate} ${at} ${pieces}`}
        columns={[
          { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
          { head: 'Item', cell: ({ item }) => <code>{item}</code> },
          { head: 'Where', cell: ({ fate, at }) => `${fateWords(fate)} ${at}` },
          { head: 'Customer', cell: ({ customer }) => (customer === null ? '' : <Refer kind="customer" code={customer} />) },
          { head: 'Pieces', cell: ({ pieces }) => (pieces === null ? '' : briefPieces(spansIn(pieces))) },
          { head: 'Quantity', num: true, cell: ({ quantity, unit }) => amountOf(quantity, unit) },
        ]}
        empty={
          <Empty>
            <p>Nothing.</p>
          </Empty>
        }
      />
      {shown.length < parts.length ? (
        <button type="button" onClick={() => setAll(true)}>
          Show all {writtenCount(parts.length)} rows
        </button>
      ) : null}
    </>
  );
}

function Lift({ hold, onClose }: { hold: Hold; onClose: () => void }) {
  const names = [...new Set(hold.parts.map(({ lot }) => lot))];
  return (
    <Dialog title={`Lift ${hold.hold}`} onClose={onClose}>
      <p className="will">
        <strong>{names.length === 1 ? names[0] : `${writtenCount(names.length)} lots`}</strong>
        {hold.reaches ? (
          <>
            {' '}
            and {writtenCount(hold.reachedLots)} lots made from {names.length === 1 ? 'it' : 'them'} ({writtenPieces(hold.reachedPieces)})
          </>
        ) : null}{' '}
        will no longer be stopped by this hold. Other holds and the quality status stay as they are.
      </p>
      <CommandForm
        path="/api/holds/{hold}/lift"
        address={{ hold: hold.hold }}
        body={() => ({})}
        submit={`Lift ${hold.hold}`}
        signs={
          <>
            that hold <code>{hold.hold}</code> is lifted: “{hold.reason}” no longer stands against what it held
          </>
        }
        onDone={onClose}
        onCancel={onClose}
      />
    </Dialog>
  );
}
