import { memo } from 'react';
import { Link } from 'wouter';
import { parseQuantity } from '../../../shared/quantity.js';
import { wholeLot } from '../../../shared/spans.js';
import { writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import type { View } from '../wire/client.js';
import { StampsInList } from './stamps-in-list.js';
import { amount } from './words.js';

export const HEADS: readonly { readonly head: string; readonly num?: boolean }[] = [
  { head: 'Lot' },
  { head: 'Item' },
  { head: 'Status' },
  { head: 'Quantity', num: true },
  { head: 'Supplier’s lot' },
  { head: 'Expires' },
];

/** The cells of a lot in the list. */
export const LotRow = memo(function LotRow({
  row,
  name,
  tabIndex,
  onFocus,
  place,
}: {
  row: View<'LotLineView'>;
  /** Of the item. */
  name: string;
  tabIndex: number;
  onFocus: (place: number) => void;
  place: number;
}) {
  return (
    <>
      <div role="cell">
        <Link href={`/lots/${encodeURIComponent(row.lot)}`} className="lot-link" tabIndex={tabIndex} onFocus={() => onFocus(place)}>
          <span className="code">{row.lot}</span> <small>{localWritten(row.bornAt).split(',')[0]}</small>
        </Link>
      </div>
      <div role="cell">
        <span className="code">{row.item}</span>
        <small>{name}</small>
      </div>
      <div role="cell" className="lot-stamps">
        <StampsInList stamps={row.stamps} of={row.pieces === null ? null : wholeLot(row.pieces)} unit={row.unit} />
      </div>
      <div role="cell" className="num">
        {amount(parseQuantity(row.quantity), row.unit)}
        <small>{row.onHand === '0' ? 'none on hand' : `${amount(parseQuantity(row.onHand), row.unit, false)} on hand`}</small>
      </div>
      <div role="cell">
        <span className="code">{row.supplierLot}</span>
        <small>{row.supplier ?? (row.origin === 'made' ? 'made here' : row.origin)}</small>
      </div>
      <div role="cell">{row.expiresOn === null ? <span className="quiet">does not</span> : writtenDate(row.expiresOn)}</div>
    </>
  );
});
