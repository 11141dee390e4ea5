import { type ReactNode, useState } from 'react';
import { Link } from 'wouter';
import { countPieces, formatSpans, type SpanSet } from '../../../shared/spans.js';
import { writtenPieces } from '../../../shared/written.js';
import { type Role, useMay, useMe } from '../app/session.js';
import { Section } from '../design/page.js';
import { Said } from '../design/said.js';
import { ActionDialog, type ActionName } from './action-dialog.js';
import { askedWith, isStamped, type Lot, placesOnHand, spansOfFate } from './lot.js';
import { briefPieces } from './words.js';

interface Offer {
  readonly name: ActionName;
  readonly says: string;
  readonly roles: readonly Role[];
  /** Whether the lot has anything that it can be done to. */
  readonly fits: (lot: Lot) => boolean;
  readonly danger?: boolean;
}

const onHand = (lot: Lot): boolean => placesOnHand(lot).length > 0;
const anyLot = (): boolean => true;

const DECISIONS: readonly Offer[] = [
  { name: 'release', says: 'Release', roles: ['quality'], fits: (lot) => isStamped(lot, 'QUARANTINE') },
  { name: 'non-acceptance', says: 'Do not accept', roles: ['quality'], fits: (lot) => isStamped(lot, 'QUARANTINE'), danger: true },
  {
    name: 'reconsideration',
    says: 'Take the decision back',
    roles: ['quality'],
    fits: (lot) => isStamped(lot, 'RELEASED') || isStamped(lot, 'NOT ACCEPTED'),
  },
  { name: 'hold', says: 'Hold', roles: ['quality'], fits: anyLot, danger: true },
  {
    name: 'urgent-release',
    says: 'Urgent release',
    roles: ['quality'],
    fits: (lot) => onHand(lot) && ['QUARANTINE', 'EXPIRED', 'HELD'].some((word) => isStamped(lot, word)),
    danger: true,
  },
];
const STOCK: readonly Offer[] = [
  { name: 'move', says: 'Move', roles: ['clerk', 'operator', 'inspector', 'quality', 'dispatcher'], fits: onHand },
  { name: 'count', says: 'Count', roles: ['clerk', 'quality', 'dispatcher'], fits: anyLot },
  { name: 'scrap', says: 'Scrap', roles: ['operator', 'quality'], fits: (lot) => onHand(lot) || hasRetained(lot), danger: true },
  { name: 'retain', says: 'Keep a retain sample', roles: ['inspector', 'quality'], fits: onHand },
  { name: 'take-back', says: 'Put a sample back', roles: ['inspector', 'quality'], fits: (lot) => hasRetained(lot) },
  { name: 'test', says: 'Destroyed in test', roles: ['inspector', 'quality'], fits: (lot) => onHand(lot) || hasRetained(lot) },
  {
    name: 'supplier-return',
    says: 'Return to the supplier',
    roles: ['clerk', 'quality'],
    fits: (lot) => onHand(lot) && lot.supplier !== null,
  },
];

function hasRetained(lot: Lot): boolean {
  return lot.places.some(({ fate }) => fate === 'retained') || spansOfFate(lot, 'retained').length > 0;
}

/** What may be done with the lot or the pieces selected, by who is signed in. */
export function LotActions({ lot, selection, onDone }: { lot: Lot; selection: SpanSet; onDone: () => void }) {
  const [open, setOpen] = useState<ActionName | null>(null);
  const [done, setDone] = useState<ReactNode>(null);
  const { roles } = useMe();
  const mayRaise = useMay('clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead', 'administrator');
  const may = (offers: readonly Offer[]): Offer[] =>
    offers.filter((offer) => offer.roles.some((role) => (roles as readonly string[]).includes(role)) && offer.fits(lot));
  const decisions = may(DECISIONS);
  const stock = may(STOCK);
  const buttons = (offers: readonly Offer[]): ReactNode =>
    offers.map(({ name, says, danger }) => (
      <button
        key={name}
        type="button"
        className={danger ? 'danger' : undefined}
        onClick={() => {
          setDone(null);
          setOpen(name);
        }}
      >
        {says} …
      </button>
    ));
  const pieces = formatSpans(selection);
  return (
    <Section title="What to do" note={<Taking lot={lot} selection={selection} />} id="actions" screenOnly>
      <Said says={done} />
      <div className="lot-actions no-print">
        {decisions.length > 0 ? (
          <div className="row" role="group" aria-label="Decide">
            {buttons(decisions)}
          </div>
        ) : null}
        {stock.length > 0 ? (
          <div className="row" role="group" aria-label="Stock">
            {buttons(stock)}
          </div>
        ) : null}
        <div className="row" role="group" aria-label="Follow">
          <Link className="button" href={askedWith('/trace', lot, pieces, { direction: 'forward' })}>
            Trace forward
          </Link>
          <Link className="button" href={askedWith('/trace', lot, pieces, { direction: 'backward' })}>
            Trace backward
          </Link>
          {mayRaise ? (
            <Link className="button" href={askedWith('/nonconformance/new', lot, pieces)}>
              Raise a report
            </Link>
          ) : null}
        </div>
      </div>
      {open === null ? null : (
        <ActionDialog
          name={open}
          lot={lot}
          selection={selection}
          onClose={() => setOpen(null)}
          onDone={(said) => {
            setOpen(null);
            setDone(said);
            onDone();
          }}
        />
      )}
    </Section>
  );
}

function Taking({ lot, selection }: { lot: Lot; selection: SpanSet }) {
  if (selection.length > 0) {
    return (
      <>
        with the {writtenPieces(countPieces(selection))} selected: {briefPieces(selection)}
      </>
    );
  }
  return lot.pieces === null ? <>with the lot</> : <>with the lot, or with pieces selected in the ribbon</>;
}
