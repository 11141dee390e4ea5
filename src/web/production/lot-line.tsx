import { writtenDate } from '../../../shared/written.js';
import { localDate } from '../app/clock.js';
import { Hazard } from '../design/hazard.js';
import { Caution } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { ReasonLine } from '../design/refused.js';
import { Stamps } from '../design/stamp.js';
import { standsAgainst } from './lot-against.js';
import { amount, type Lot } from './run.js';
import { onHand } from './take-from.js';

/** What the lot is, its stamp, and everything that stands against it. */
export function LotLine({ lot }: { lot: Lot }) {
  const against = standsAgainst(lot, localDate());
  return (
    <div className="lot-line">
      <div className="lot-name">
        <h3>
          <Refer kind="lot" code={lot.lot} /> {lot.itemName} <code>{lot.item}</code>
        </h3>
        <Stamps stamps={lot.stamps} unit={lot.unit} />
      </div>
      <p className="quiet">
        {amount(lot.reconciliation.onHand, lot.unit)} on hand{onHand(lot).places.length === 0 ? '' : ` at ${onHand(lot).places.join(', ')}`}
        {lot.supplier === null ? '' : ` · ${lot.supplier}, their lot ${lot.supplierLot}`}
        {lot.expiresOn === null ? '' : ` · expires ${writtenDate(lot.expiresOn)}`}
      </p>
      {against.length === 0 ? null : (
        <Caution>
          <p>Look at this first:</p>
          <ul>
            {against.map((reason) => (
              <li key={reason.code}>
                <ReasonLine reason={reason} />
              </li>
            ))}
          </ul>
        </Caution>
      )}
      <Hazard says={lot.hazard} />
    </div>
  );
}
