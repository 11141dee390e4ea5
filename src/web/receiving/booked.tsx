import { writtenDecimal } from '../../../shared/written.js';
import { useEffect, useRef } from 'react';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import type { View } from '../wire/client.js';
import { Labels } from './labels.js';

/** What was just booked: its lot codes, and the labels, which are wanted right now. */
export function Booked({ delivery }: { delivery: View<'DeliveryView'> }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [delivery]);
  return (
    <section className="booked" aria-label="Booked">
      <h2 tabIndex={-1} ref={heading}>
        Booked: delivery <Refer kind="delivery" code={delivery.delivery} /> <Stamp word="Quarantine" small />
      </h2>
      <ul>
        {delivery.lines.map((line) => (
          <li key={line.lot}>
            <Refer kind="lot" code={line.lot} /> {writtenDecimal(line.quantity, line.unit)} of <code>{line.item}</code>
            {line.supplierLotAssigned ? ', supplier’s lot unknown' : `, supplier’s lot ${line.supplierLot}`}
            {line.expiredOnArrival ? <strong className="urgent"> past its expiry date on arrival</strong> : null}
            {line.earlier.length === 0 ? null : `; the same supplier’s lot came before as ${line.earlier.join(', ')}`}
          </li>
        ))}
      </ul>
      <Labels delivery={delivery.delivery} />
    </section>
  );
}
