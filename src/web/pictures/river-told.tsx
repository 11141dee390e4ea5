import type { ReactNode } from 'react';
import type { FlowLot } from '../../../shared/api/flow.js';
import { parseQuantity } from '../../../shared/quantity.js';
import { countPieces } from '../../../shared/spans.js';
import type { PlacedNode } from '../../../shared/trace-layout.js';
import { writtenCount, writtenDate, writtenPieces, writtenQuantity, writtenShare } from '../../../shared/written.js';
import { kindWords, tellNode } from './river-words.js';

/** How much of a lot is affected: `1 205 of 1 552 pieces`, `399.2 kg`. */
function amountWords({ affected, pieces, spans, quantity, unit }: FlowLot, inked: string): string {
  const whole = pieces === null || spans === null ? writtenQuantity(parseQuantity(quantity), unit) : writtenPieces(pieces);
  if (!affected) return `${whole}, not ${inked}`;
  return pieces === null || spans === null ? `${whole} ${inked}` : `${writtenCount(countPieces(spans))} of ${whole} ${inked}`;
}

function tellLot(lot: FlowLot, share: number | null | undefined, inked: string): string[] {
  const received = lot.supplierLot === null ? '' : `supplier’s lot ${lot.supplierLot}${lot.supplier === null ? '' : ` of ${lot.supplier}`}`;
  return [
    lot.itemName,
    kindWords(lot.class ?? 'lot', 1),
    amountWords(lot, inked),
    share === null || share === undefined ? '' : `share ${writtenShare(share)}`,
    `${lot.origin} ${writtenDate(lot.bornAt)}, ${lot.source}`,
    received,
  ].filter((part) => part !== '');
}

/** What is pointed at, has the focus or was chosen, in one place above the picture where nothing covers it. */
export function RiverTold({
  node,
  lot,
  share,
  labelOf,
  inked,
  stamps,
  actions,
}: {
  node: PlacedNode | null;
  lot: FlowLot | undefined;
  share: number | null | undefined;
  labelOf: (id: string) => string;
  inked: string;
  stamps: ReactNode;
  actions: ReactNode;
}) {
  if (node === null) {
    return (
      <div className="river-told no-print">
        <p className="quiet">
          Point at anything to see all that is up- and downstream of it. By keyboard: arrows along the flow, Enter to choose or unfold,
          minus to fold again.
        </p>
      </div>
    );
  }
  const parts = lot === undefined ? tellNode(node, labelOf, inked) : tellLot(lot, share, inked);
  return (
    <div className="river-told no-print">
      <p>
        <strong className={node.foldedCount > 1 ? undefined : 'code'}>{node.label}</strong> {parts.join(' · ')} {stamps}
      </p>
      {actions === null ? null : <div className="row">{actions}</div>}
    </div>
  );
}
