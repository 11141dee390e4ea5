import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { LotsTabs } from './lots-tabs.js';
import { briefPieces, spansIn } from './words.js';

type Hold = View<'HoldView'>;

/** Everything that is stopped, and was. */
export function HoldsPage() {
  const query = server.useQuery('get', '/api/holds');
  return (
    <Answered query={query} what="the holds">
      {(holds) => {
        const open = holds.filter(({ liftedAt }) => liftedAt === null);
        const lifted = holds.filter(({ liftedAt }) => liftedAt !== null);
        return (
          <Page
            title="Holds"
            sub="What is held can be neither used nor shipped. A hold that reaches stops what was made from it too."
            facts={[
              { label: 'Open', value: writtenCount(open.length), warn: open.length > 0 },
              { label: 'Lifted', value: writtenCount(lifted.length) },
            ]}
          >
            <LotsTabs />
            <Section title="Open" note="oldest first">
              <HoldTable caption="Open holds, oldest first" holds={open.toSorted((a, b) => a.placedSeq - b.placedSeq)} lifted={false} />
            </Section>
            <Section title="Lifted" note="newest first">
              <HoldTable
                caption="Lifted holds, newest first"
                holds={lifted.toSorted((a, b) => (b.liftedSeq ?? 0) - (a.liftedSeq ?? 0))}
                lifted
              />
            </Section>
          </Page>
        );
      }}
    </Answered>
  );
}

function HoldTable({ caption, holds, lifted }: { caption: string; holds: readonly Hold[]; lifted: boolean }) {
  return (
    <LedgerTable
      caption={caption}
      rows={holds}
      rowKey={({ hold }) => hold}
      columns={[
        { head: 'Hold', cell: ({ hold }) => <Refer kind="hold" code={hold} /> },
        { head: 'Holds', cell: ({ parts }) => <Parts parts={parts} /> },
        { head: 'Made from it', cell: ({ reaches }) => (reaches ? 'stopped too' : 'not stopped') },
        { head: 'Reason', cell: ({ reason, liftReason }) => (liftReason === null ? reason : `${reason} — lifted: ${liftReason}`) },
        { head: 'Owner', cell: ({ owner }) => <code>{owner}</code> },
        {
          head: lifted ? 'Lifted' : 'Placed',
          cell: ({ placedAt, placedBy, liftedAt, liftedBy }) =>
            liftedAt === null ? `${localWritten(placedAt)}, ${placedBy}` : `${localWritten(liftedAt)}, ${liftedBy}`,
        },
      ]}
      empty={
        <Empty>
          <p>
            {lifted
              ? 'No hold was lifted yet.'
              : 'Nothing is held. Quality places a hold on the page of a lot, on all of it or on pieces selected there; a nonconformance report places its own.'}
          </p>
        </Empty>
      }
    />
  );
}

const FEW = 3;

/** The lots of a hold, the first few by name. */
function Parts({ parts }: { parts: Hold['parts'] }) {
  return (
    <>
      {parts.slice(0, FEW).map(({ lot, pieces, quantity }) => (
        <div key={`${lot} ${pieces}`}>
          <Refer kind="lot" code={lot} />{' '}
          {pieces === null ? (quantity === null ? '' : `a quantity of ${quantity}`) : `pieces ${briefPieces(spansIn(pieces))}`}
        </div>
      ))}
      {parts.length > FEW ? <div className="quiet">and {writtenCount(parts.length - FEW)} more</div> : null}
    </>
  );
}
