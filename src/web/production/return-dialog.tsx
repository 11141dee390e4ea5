import { useLocations } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { QuantityField, TextAreaField, TextField } from '../design/fields.js';
import { amount, type Run, type RunCharge } from './run.js';

/** Unused material goes back to stock: all of a charge, or part of it. */
export function ReturnDialog({ run, charge, onClose }: { run: Run; charge: RunCharge; onClose: () => void }) {
  const locations = useLocations();
  return (
    <Dialog title={`Put ${charge.lot} back to stock`} onClose={onClose}>
      <p>
        {amount(charge.quantity, charge.unit)} of {charge.name} are in {run.run} by charge {charge.charge}. What goes back is in stock again
        and counts as never used.
      </p>
      <CommandForm
        path="/api/runs/{run}/returns"
        address={{ run: run.run }}
        submit="Put it back"
        keepAs={() => `${charge.lot} back from ${run.run}`}
        body={(values) => ({
          returns: [
            {
              charge: charge.charge,
              quantity: values.maybe('/returns/0/quantity'),
              pieces: values.maybe('/returns/0/pieces'),
              location: values.maybe('/returns/0/location'),
            },
          ],
          reason: values.text('/reason'),
        })}
        onDone={onClose}
        onKept={onClose}
        onCancel={onClose}
      >
        {charge.pieces === null ? (
          <QuantityField
            name="/returns/0/quantity"
            label="How much"
            unit={charge.unit === 'each' ? 'pieces' : charge.unit}
            hint="Empty: all of it."
          />
        ) : (
          <TextField name="/returns/0/pieces" label="Pieces" code hint={`Empty: all of ${charge.pieces}.`} />
        )}
        <CodeField name="/returns/0/location" label="Where to" choices={locations} hint="Empty: where it was taken from." />
        <TextAreaField name="/reason" label="Why" required rows={2} />
      </CommandForm>
    </Dialog>
  );
}
