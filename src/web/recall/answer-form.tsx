import { localDate } from '../app/clock.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField, TextField, TickField } from '../design/fields.js';
import { pieceText } from '../design/piece-text.js';
import type { View } from '../wire/client.js';

type Consignee = View<'ConsigneeStatusView'>;

/** What a consignee answered: what it did, and what it still has of each lot. */
export function AnswerForm({ recall, consignee, onDone }: { recall: string; consignee: Consignee; onDone: () => void }) {
  return (
    <CommandForm
      path="/api/recalls/{recall}/answers"
      address={{ recall }}
      submit="Record the answer"
      body={(values) => ({
        customer: consignee.customer,
        followedInstructions: {
          stopped: values.on('/followedInstructions/stopped'),
          acted: values.on('/followedInstructions/acted'),
          passedOn: values.on('/none') ? undefined : values.on('/followedInstructions/passedOn'),
        },
        onHand: consignee.lots.flatMap(({ lot, sent }, at) => {
          const text = values.text(`/onHand/${at}`);
          if (text === '') return [];
          return [sent.spans === null || text === '0' ? { lot, quantity: text } : { lot, pieces: pieceText(text) }];
        }),
        signedBy: values.text('/signedBy'),
        answeredOn: values.text('/answeredOn'),
        note: values.maybe('/note'),
      })}
      onDone={onDone}
    >
      <TickField name="/followedInstructions/stopped" label="Stopped distributing and using it" />
      <TickField name="/followedInstructions/acted" label="Did with it what was asked" />
      <TickField name="/followedInstructions/passedOn" label="Told its own customers" />
      <TickField name="/none" label="Has no customers of its own" />
      <div className="grid">
        {consignee.lots.map(({ lot, sent, unit }, at) => (
          <TextField
            key={lot}
            name={`/onHand/${at}`}
            label={`Still has of ${lot}`}
            code
            hint={sent.spans === null ? `quantity in ${unit}; empty: nothing` : 'pieces, as 5-17,40; empty: nothing'}
          />
        ))}
      </div>
      <div className="grid">
        <TextField name="/signedBy" label="Signed there by" required />
        <TextField name="/answeredOn" label="Date on the reply" type="date" required defaultValue={localDate()} />
      </div>
      <TextAreaField name="/note" label="Remark" rows={2} />
    </CommandForm>
  );
}
