import { useState } from 'react';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import type { View } from '../wire/client.js';

/** Puts an instrument in the register, or revises it with a reason. */
export function InstrumentForm({ of: newest, onClose }: { of?: View<'InstrumentView'>; onClose: () => void }) {
  // As it was when the form was opened: what is read anew meanwhile has not been seen.
  const [of] = useState(newest);
  return (
    <Dialog title={of === undefined ? 'Put an instrument in the register' : `Revise ${of.code}`} onClose={onClose}>
      <CommandForm
        path="/api/instruments"
        body={(values) => ({
          code: of?.code ?? values.text('/code'),
          ...(of === undefined ? {} : { revision: of.revision, reason: values.text('/reason') }),
          name: values.text('/name'),
          kind: values.text('/kind'),
          serial: values.maybe('/serial'),
          resolution: values.maybe('/resolution'),
          intervalDays: values.whole('/intervalDays') ?? 0,
          use: values.choice<'in-use' | 'withdrawn'>('/use'),
        })}
        submit={of === undefined ? 'Put it in the register' : 'Write the revision'}
        onDone={onClose}
        onCancel={onClose}
      >
        {of === undefined ? <TextField name="/code" label="Code" code required hint="as on its label" /> : null}
        <TextField name="/name" label="Name" required defaultValue={of?.name} />
        <TextField name="/kind" label="Kind" required defaultValue={of?.kind} hint="as plans name it: calliper, balance, viscometer" />
        <TextField name="/serial" label="Maker's number" code defaultValue={of?.serial ?? ''} />
        <TextField name="/resolution" label="Smallest step it shows" defaultValue={of?.resolution ?? ''} hint="with its unit, as 0.01 mm" />
        <TextField
          name="/intervalDays"
          label="Days from one calibration to the next"
          inputMode="numeric"
          pattern="[1-9][0-9]*"
          title="a whole number of days"
          required
          defaultValue={of?.intervalDays}
        />
        <ChoiceField
          name="/use"
          label="Use"
          choices={[
            { value: 'in-use', says: 'in use' },
            { value: 'withdrawn', says: 'withdrawn: it measures nothing any more' },
          ]}
          defaultValue={of?.use}
        />
        {of === undefined ? null : <TextAreaField name="/reason" label="Why it is revised" required rows={2} />}
      </CommandForm>
    </Dialog>
  );
}
