import { useState } from 'react';
import { countPieces, formatSpans } from '../../../shared/spans.js';
import { writtenPieces } from '../../../shared/written.js';
import { useLocations } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { QuantityField, TextAreaField, TextField, TickField } from '../design/fields.js';
import type { ActionProps } from './action-dialog.js';
import { type Lot, placesOnHand } from './lot.js';
import { Will } from './part-field.js';
import { amountOf, briefPieces, spansIn } from './words.js';

/** What was found at a location; the difference to the record becomes an entry with its reason. */
export function CountForm({ lot, selection, onClose, onDone }: ActionProps) {
  const locations = useLocations();
  const places = placesOnHand(lot);
  const [location, setLocation] = useState(places.length === 1 ? (places[0]?.at ?? '') : '');
  const [nothing, setNothing] = useState(false);
  return (
    <CommandForm
      path="/api/stock/counts"
      body={(values) => ({
        lot: lot.lot,
        location: location.trim(),
        ...(nothing ? { nothing } : { pieces: values.maybe('/pieces'), quantity: values.maybe('/quantity') }),
        reason: values.text('/reason'),
      })}
      submit="Record the count"
      keepAs={() => `Count of ${lot.lot} at ${location.trim()}`}
      onDone={({ document, moved }) =>
        onDone(`${document}: ${moved.length === 0 ? 'found as in the record' : 'the difference is recorded'}.`)
      }
      onKept={() => onDone('Kept on this device; it is sent when the server is back.')}
      onCancel={onClose}
    >
      <CodeField name="/location" label="Location" choices={locations} required value={location} onValue={setLocation} />
      <Expected lot={lot} location={location.trim()} />
      <TickField name="/nothing" label="Nothing of it is there" checked={nothing} onChange={(event) => setNothing(event.target.checked)} />
      {nothing ? null : lot.pieces === null ? (
        <QuantityField name="/quantity" label="Found" unit={lot.unit} required />
      ) : (
        <TextField
          name="/pieces"
          label="Pieces found"
          code
          hint="all that are there, as 5-17,40"
          defaultValue={formatSpans(selection)}
          required
        />
      )}
      <TextAreaField name="/reason" label="Reason" hint="why it was counted; for a difference, where it may come from" required rows={2} />
    </CommandForm>
  );
}

function Expected({ lot, location }: { lot: Lot; location: string }) {
  const here = placesOnHand(lot).find(({ at }) => at === location);
  const words =
    here === undefined
      ? 'none of it'
      : here.pieces === null
        ? amountOf(here.quantity, lot.unit)
        : `${writtenPieces(countPieces(spansIn(here.pieces)))}, ${briefPieces(spansIn(here.pieces))}`;
  return (
    <Will>
      {location === ''
        ? 'Choose where it was counted.'
        : `The record has ${words} at ${location}. What is missing becomes a count difference; what is more is put back from one.`}
    </Will>
  );
}
