import { writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { type Kind, Refer } from '../design/refer.js';
import type { Lot } from './lot.js';
import { amountOf } from './words.js';

const SOURCE: Readonly<Record<string, { verb: string; kind: Kind | null }>> = {
  received: { verb: 'Received', kind: 'delivery' },
  made: { verb: 'Made', kind: 'run' },
  returned: { verb: 'Came back', kind: 'returned' },
  opening: { verb: 'Brought over', kind: null },
};

/** Where a lot comes from, in a sentence with its ways. */
export function LotStory({ lot }: { lot: Lot }) {
  const { verb, kind } = SOURCE[lot.origin] ?? { verb: 'Recorded', kind: null };
  return (
    <>
      {verb} {localWritten(lot.bornAt)} in {kind === null ? <code>{lot.source}</code> : <Refer kind={kind} code={lot.source} />} by{' '}
      <code>{lot.bornBy}</code>: {amountOf(lot.quantity, lot.unit)} of <Refer kind="item" code={lot.item} />.
      {lot.supplierLot === null ? null : (
        <>
          {' '}
          Supplier’s lot <code>{lot.supplierLot}</code>
          {lot.supplierLotAssigned ? ' (given here: the paper had none)' : ''}
          {lot.supplier === null ? '' : ', '}
          {lot.supplier === null ? null : <Refer kind="supplier" code={lot.supplier} />}.
        </>
      )}{' '}
      {lot.expiresOn === null ? 'It does not expire.' : `Expires ${writtenDate(lot.expiresOn)}.`} The record is kept until{' '}
      {writtenDate(lot.recordKeptUntil)} at least.
      {lot.earlier.length === 0 ? null : (
        <>
          {' '}
          Received before under the same supplier’s lot:{' '}
          {lot.earlier.map((code) => (
            <span key={code}>
              <Refer kind="lot" code={code} />{' '}
            </span>
          ))}
        </>
      )}
    </>
  );
}
