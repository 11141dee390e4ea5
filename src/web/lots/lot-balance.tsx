import { parseQuantity } from '../../../shared/quantity.js';
import { type Column, LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { type Kind, Refer } from '../design/refer.js';
import { type Lot, whereItIs, wholeMicro } from './lot.js';
import { amount, amountOf, briefPieces, fateWords, spansIn } from './words.js';

const AT: Readonly<Record<string, Kind>> = {
  'on-hand': 'location',
  retained: 'location',
  dispatched: 'shipment',
  consumed: 'run',
};

/** Where a place leads: a run that scrapped has its page too, a stock document stands further down. */
function At({ fate, at }: { fate: string; at: string }) {
  const kind = at.startsWith('RUN-') ? 'run' : AT[fate];
  return kind === undefined ? <code>{at}</code> : <Refer kind={kind} code={at} />;
}

/** All of the lot, set against where it is: the parts add up or the difference is said. */
export function LotBalance({ lot }: { lot: Lot }) {
  const parts = whereItIs(lot).filter(({ micro }) => micro !== 0);
  const gap = parseQuantity(lot.reconciliation.gap);
  const sum = parts.map(({ says, micro }) => `${amount(micro, lot.unit, false)} ${says.toLowerCase()}`).join(' + ');
  return (
    <Section title="Where it is" note={`${amount(wholeMicro(lot), lot.unit)} = ${sum}`}>
      {gap === 0 ? null : (
        <p className="urgent">
          {amount(gap, lot.unit)} of it are not accounted for: what came in is more than where the record says it is.
        </p>
      )}
      <LedgerTable
        caption="Where every part of the lot is"
        rows={lot.places}
        rowKey={({ fate, at, pieces }) => `${fate} ${at} ${pieces}`}
        columns={columnsOf(lot)}
      />
      <Uses lot={lot} />
    </Section>
  );
}

/** Columns that have nothing to say of this lot are left out. */
function columnsOf(lot: Lot): Column<Lot['places'][number]>[] {
  const all: (Column<Lot['places'][number]> | null)[] = [
    { head: 'What became of it', cell: ({ fate }) => fateWords(fate) },
    { head: 'Where', cell: ({ fate, at }) => <At fate={fate} at={at} /> },
    lot.places.every(({ customer }) => customer === null)
      ? null
      : {
          head: 'Customer',
          cell: ({ customer, customerName }) =>
            customer === null ? (
              ''
            ) : (
              <>
                <Refer kind="customer" code={customer} /> {customerName}
              </>
            ),
        },
    lot.pieces === null ? null : { head: 'Pieces', cell: ({ pieces }) => (pieces === null ? '' : briefPieces(spansIn(pieces))) },
    { head: 'Quantity', num: true, cell: ({ quantity }) => amountOf(quantity, lot.unit) },
  ];
  return all.filter((column) => column !== null);
}

/** What runs took, set against what links say went into what they made. */
function Uses({ lot }: { lot: Lot }) {
  const { usedBy } = lot.reconciliation;
  if (usedBy.length === 0) return null;
  return (
    <>
      <h3>Taken by runs, and what went into what they made</h3>
      <LedgerTable
        caption="Taken by runs against what went into their products"
        rows={usedBy}
        rowKey={({ run }) => run}
        rowClass={({ gap }) => (gap === '0' ? undefined : 'affected')}
        columns={[
          { head: 'Run', cell: ({ run }) => <Refer kind="run" code={run} /> },
          { head: 'Kind', cell: ({ kind }) => kind ?? 'not closed yet' },
          { head: 'Taken', num: true, cell: ({ consumed }) => amountOf(consumed, lot.unit) },
          { head: 'Went into products', num: true, cell: ({ linked }) => amountOf(linked, lot.unit) },
          { head: 'Difference', num: true, cell: ({ gap }) => (gap === '0' ? '0' : amountOf(gap, lot.unit)) },
          {
            head: 'Made',
            cell: ({ made }) =>
              made.map((code) => (
                <span key={code}>
                  <Refer kind="lot" code={code} />{' '}
                </span>
              )),
          },
        ]}
      />
    </>
  );
}
