import type { ReactNode } from 'react';
import { CodeField, type Choice } from '../design/code-field.js';
import { ChoiceField, QuantityField, TextAreaField, TextField } from '../design/fields.js';
import { LineCard } from '../design/line-card.js';
import { type GoodsLine, serialsIn, type Way } from './goods.js';
import { LotHint } from './lot-hint.js';

const WAYS: readonly { value: Way; says: string }[] = [
  { value: 'pieces', says: 'pieces of a lot' },
  { value: 'quantity', says: 'a quantity of a lot' },
  { value: 'serials', says: 'units by serial' },
];

/** One line of goods, going out or coming back. */
export function GoodsFields({
  at,
  line,
  items,
  location,
  onChange,
  onTakeOut,
  children,
}: {
  at: number;
  line: GoodsLine;
  items: readonly Choice[];
  /** Where the goods are taken from, to say what lies there; null when they come back. */
  location: string | null;
  onChange: (part: Partial<GoodsLine>) => void;
  onTakeOut: () => void;
  children?: ReactNode;
}) {
  const name = (field: string): string => `/lines/${at}/${field}`;
  return (
    <LineCard at={at} onTakeOut={onTakeOut}>
      <div className="line-card-fields">
        <ChoiceField
          name={name('way')}
          label="What"
          choices={WAYS}
          value={line.way}
          onChange={(event) => onChange({ way: event.target.value as Way })}
        />
        {line.way === 'serials' ? (
          <CodeField name={name('item')} label="Item" required choices={items} value={line.item} onValue={(item) => onChange({ item })} />
        ) : (
          <TextField
            name={name('lot')}
            label="Lot"
            code
            required
            value={line.lot}
            onChange={(event) => onChange({ lot: event.target.value })}
          />
        )}
        {line.way === 'pieces' ? (
          <TextField
            name={name('pieces')}
            label="Pieces"
            code
            required
            hint="as 5-17,40"
            value={line.pieces}
            onChange={(event) => onChange({ pieces: event.target.value })}
          />
        ) : null}
        {line.way === 'quantity' ? (
          <QuantityField
            name={name('quantity')}
            label="Quantity"
            required
            value={line.quantity}
            onChange={(event) => onChange({ quantity: event.target.value })}
          />
        ) : null}
        {children}
      </div>
      {line.way === 'serials' ? (
        <TextAreaField
          name={name('serials')}
          label={`Serials, one a line: ${serialsIn(line.serials).length}`}
          className="code"
          required
          value={line.serials}
          onChange={(event) => onChange({ serials: event.target.value })}
        />
      ) : (
        <LotHint lot={line.lot.trim()} location={location} onPieces={(pieces) => onChange({ pieces })} />
      )}
    </LineCard>
  );
}
