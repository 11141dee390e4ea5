import { useState } from 'react';
import { formatSpans, type SpanSet } from '../../../shared/spans.js';
import { writtenDecimal } from '../../../shared/written.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextField } from '../design/fields.js';
import { pieceText } from '../design/piece-text.js';
import { Notice } from '../design/page.js';
import type { View } from '../wire/client.js';
import { spansText } from './words.js';

const WAYS = [
  ['destroyed', 'Destroyed there'],
  ['corrected', 'Corrected there'],
  ['soldOn', 'Sold on, with evidence'],
] as const;

const piecesOf = (spans: number[][] | null): string => (spans === null ? '' : formatSpans(spans as unknown as SpanSet));

/** All that a consignee has accounted for of a lot so far; what came back is counted from the returns. */
export function AccountForm({ recall, consignee, onDone }: { recall: string; consignee: View<'ConsigneeStatusView'>; onDone: () => void }) {
  const [chosen, setChosen] = useState(consignee.lots[0]?.lot ?? '');
  const lot = consignee.lots.find((one) => one.lot === chosen);
  if (!lot) return null;
  const numbered = lot.sent.spans !== null;
  const part = (text: string | undefined) =>
    text === undefined ? undefined : numbered && text !== '0' ? { pieces: pieceText(text) } : { quantity: text };
  return (
    <CommandForm
      key={chosen}
      path="/api/recalls/{recall}/accounts"
      address={{ recall }}
      submit="Record the account"
      body={(values) => ({
        customer: consignee.customer,
        lot: lot.lot,
        destroyed: part(values.maybe('/destroyed')),
        corrected: part(values.maybe('/corrected')),
        soldOn: part(values.maybe('/soldOn')),
        evidence: values.text('/evidence'),
      })}
      onDone={onDone}
    >
      <Notice>
        <p>
          State all of it so far: it takes the place of what was stated before. Goods that come back are booked as a return under Dispatch,
          not here. Outstanding now: {writtenDecimal(lot.outstanding.quantity, lot.unit)}
          {numbered && lot.outstanding.quantity !== '0' ? ` (${spansText(lot.outstanding.spans)})` : ''}.
        </p>
      </Notice>
      <ChoiceField
        name="/lot"
        label="Lot"
        choices={consignee.lots.map((one) => ({ value: one.lot, says: `${one.lot}: ${writtenDecimal(one.sent.quantity, one.unit)} sent` }))}
        value={chosen}
        onChange={(event) => setChosen(event.target.value)}
      />
      <div className="grid">
        {WAYS.map(([key, label]) => (
          <TextField
            key={key}
            name={`/${key}`}
            label={label}
            code
            hint={numbered ? 'pieces, as 5-17,40' : `quantity in ${lot.unit}`}
            defaultValue={numbered ? piecesOf(lot[key].spans) : lot[key].quantity === '0' ? '' : lot[key].quantity}
          />
        ))}
      </div>
      <TextField name="/evidence" label="What shows it" required hint="a certificate, the reply, a list" />
    </CommandForm>
  );
}
