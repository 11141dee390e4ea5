import { useState } from 'react';
import { writtenCount, writtenPieces } from '../../../shared/written.js';
import { CommandForm } from '../design/command-form.js';
import { TextField, TickField } from '../design/fields.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import type { ActionProps } from './action-dialog.js';
import type { Lot } from './lot.js';
import { PartField, Will } from './part-field.js';

/** Stops the lot, pieces or a quantity of it, with or without what was made from it: signed. */
export function HoldForm({ lot, selection, onClose, onDone }: ActionProps) {
  const [reaches, setReaches] = useState(true);
  return (
    <CommandForm
      path="/api/holds"
      body={(values) => ({
        parts: [{ lot: lot.lot, pieces: values.maybe('/parts/0/pieces'), quantity: values.maybe('/parts/0/quantity') }],
        reaches,
        owner: values.maybe('/owner'),
      })}
      submit={`Hold ${lot.lot}${reaches ? ' and what was made from it' : ''}`}
      danger
      signs={
        <>
          that <code>{lot.lot}</code>, as named above, {reaches ? 'and everything made from it, now and later, is' : 'is'} held until
          quality lifts the hold
        </>
      }
      onDone={({ hold }) =>
        onDone(
          <>
            Held by <Refer kind="hold" code={hold} />.
          </>,
        )
      }
      onCancel={onClose}
    >
      <PartField lot={lot} selection={selection} says="will be held: it can be neither used nor shipped" under="/parts/0" wholeIfEmpty />
      <TickField
        name="/reaches"
        label="Everything made from it too"
        checked={reaches}
        onChange={(event) => setReaches(event.target.checked)}
        hint={`whatever the genealogy says, also what is made from it later${lot.pieces === null ? '; only with a hold on all of the lot, for what came of a part of it cannot be told apart' : ''}`}
      />
      {reaches ? <Reach lot={lot} /> : null}
      <TextField name="/owner" label="Owner" code hint="the person who sees to it; left empty, you" />
    </CommandForm>
  );
}

/** How much a hold on all of the lot would reach now. */
function Reach({ lot }: { lot: Lot }) {
  const { data } = server.useQuery('get', '/api/trace', { params: { query: { lot: lot.lot, direction: 'forward', scope: 'narrow' } } });
  if (data === undefined) return <Will>Counting what was made from it …</Will>;
  const { lots, pieces, dispatchedPieces, consignees } = data.totals;
  const customers = `${writtenCount(consignees)} ${consignees === 1 ? 'customer' : 'customers'}`;
  return (
    <Will>
      {lots === 0 ? (
        'Nothing was made from this lot so far.'
      ) : (
        <>
          <strong>{writtenCount(lots)}</strong> {lots === 1 ? 'lot was' : 'lots were'} made from all of this lot so far
          {pieces > 0 ? `, ${writtenPieces(pieces)} in numbered ones` : ''}.
        </>
      )}
      {dispatchedPieces > 0
        ? ` ${writtenPieces(dispatchedPieces)} are with ${customers} already: a hold keeps nobody there from using them.`
        : ''}
    </Will>
  );
}
