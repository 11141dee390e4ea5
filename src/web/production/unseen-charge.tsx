import { CommandForm } from '../design/command-form.js';
import { QuantityField, TextAreaField, TextField } from '../design/fields.js';
import { Caution } from '../design/page.js';
import type { ChargeDrafting } from './charge-draft.js';
import { type Asked, sayAsked } from './found-code.js';
import type { Run } from './run.js';
import { useDoing } from './use-doing.js';

/**
 * Without a connection nobody can say what a lot is or whether it may be charged. What was done is noted with its time all the same, and
 * judged when the server is back.
 */
export function UnseenCharge({
  run,
  asked,
  drafting,
  onDone,
}: {
  run: Run;
  asked: Asked;
  drafting: ChargeDrafting;
  onDone: (words: string) => void;
}) {
  const doing = useDoing();
  const lot = asked.lot ?? asked.text ?? '';
  const wired = (name: string) => ({
    value: drafting.draft.fields[name] ?? '',
    onChange: (event: { target: { value: string } }) => drafting.type(name, event.target.value),
  });
  return (
    <div className="sheet charge-sheet">
      <h3>
        <code>{sayAsked(asked)}</code>
      </h3>
      <Caution>
        <p>
          No connection: nobody can say now what this is and whether it may be charged. Look at its label. If it goes in, note it here: it
          is kept with the time of now, sent once when the server is back, and refused then if it must not be.
        </p>
      </Caution>
      <CommandForm
        path="/api/runs/{run}/charges"
        address={{ run: run.run }}
        submit={`Keep the charge of ${lot}`}
        keepAs={({ charges }) => `${charges[0]?.quantity ?? charges[0]?.pieces ?? ''} of ${lot} into ${run.run}`}
        body={(values) => ({
          charges: [
            {
              lot,
              quantity: values.maybe('/charges/0/quantity'),
              pieces: values.maybe('/charges/0/pieces'),
              deviationReason: values.maybe('/charges/0/deviationReason'),
              chargedAt: doing.at(),
            },
          ],
        })}
        check={(values) =>
          values.maybe('/charges/0/quantity') === undefined && values.maybe('/charges/0/pieces') === undefined
            ? [{ code: 'not-filled-in', detail: 'How much, or which pieces?', pointer: '/charges/0/quantity' }]
            : []
        }
        onDone={() => {
          doing.over();
          onDone(`Charged ${lot}.`);
        }}
        onKept={() => {
          doing.over();
          onDone(`The charge of ${lot} is kept on this device and sent when the server is back.`);
        }}
        onCancel={() => drafting.ask(null)}
      >
        <QuantityField name="/charges/0/quantity" label="Quantity, in the lot’s own unit" {...wired('quantity')} className="large" />
        <TextField name="/charges/0/pieces" label="Or pieces, if they have numbers" code {...wired('pieces')} />
        <TextAreaField
          name="/charges/0/deviationReason"
          label="Reason, if it is done otherwise than the recipe says"
          rows={2}
          {...wired('deviationReason')}
        />
      </CommandForm>
    </div>
  );
}
