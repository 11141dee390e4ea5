import { CodeField } from '../design/code-field.js';
import { QuantityField, TextAreaField, TextField } from '../design/fields.js';
import { Hazard } from '../design/hazard.js';
import { LineCard } from '../design/line-card.js';
import { type DraftLine, serialsOf } from './draft.js';
import type { Catalogue } from './proposal.js';
import { useHazard } from './use-hazard.js';

/** One line: one supplier's lot, all of it open to correction. */
export function LineFields({
  at,
  line,
  catalogue,
  onChange,
  onTakeOut,
}: {
  at: number;
  line: DraftLine;
  catalogue: Catalogue;
  onChange: (part: Partial<DraftLine>) => void;
  onTakeOut: () => void;
}) {
  const item = catalogue.items.find(({ code }) => code === line.item.trim());
  const hazard = useHazard(line.item.trim());
  const name = (field: string): string => `/lines/${at}/${field}`;
  const count = serialsOf(line).length;
  return (
    <LineCard at={at} name={item?.name} onTakeOut={onTakeOut}>
      <Hazard says={hazard} handling />
      <div className="line-card-fields of-delivery">
        <CodeField
          name={name('item')}
          label="Item"
          required
          choices={catalogue.items.map(({ code, name: says }) => ({ code, says }))}
          value={line.item}
          onValue={(code) => onChange({ item: code })}
        />
        <TextField
          name={name('supplierLot')}
          label="Supplier’s lot"
          code
          hint="as on the label; none: left empty"
          value={line.supplierLot}
          onChange={(event) => onChange({ supplierLot: event.target.value })}
        />
        <QuantityField
          name={name('quantity')}
          label="Quantity"
          unit={item?.unit}
          required
          value={line.quantity}
          onChange={(event) => onChange({ quantity: event.target.value })}
        />
        <TextField
          name={name('expiresOn')}
          label="Expires"
          type="date"
          value={line.expiresOn}
          onChange={(event) => onChange({ expiresOn: event.target.value })}
        />
        <TextField
          name={name('madeOn')}
          label="Made"
          type="date"
          value={line.madeOn}
          onChange={(event) => onChange({ madeOn: event.target.value })}
        />
        <TextField
          name={name('containers')}
          label="Containers"
          inputMode="numeric"
          pattern="[1-9][0-9]*"
          title="a whole number of at least 1"
          value={line.containers}
          onChange={(event) => onChange({ containers: event.target.value })}
        />
      </div>
      {item?.tracking === 'serial' ? (
        <TextAreaField
          name={name('serials')}
          label={`Serials, one a line: ${count} of ${line.quantity || '0'}`}
          className="code"
          value={line.serials}
          onChange={(event) => onChange({ serials: event.target.value })}
        />
      ) : null}
    </LineCard>
  );
}
