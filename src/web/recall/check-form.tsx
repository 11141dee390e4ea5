import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TickField } from '../design/fields.js';
import { CHANNELS } from './words.js';

/** An effectiveness check: did the notice reach those who were to act, and did they? */
export function CheckForm({ recall, customer, onDone }: { recall: string; customer: string; onDone: () => void }) {
  return (
    <CommandForm
      path="/api/recalls/{recall}/effectiveness-checks"
      address={{ recall }}
      submit="Record the check"
      body={(values) => ({
        customer,
        method: values.choice('/method'),
        reached: values.on('/reached'),
        followed: values.on('/followed'),
        note: values.text('/note'),
      })}
      onDone={onDone}
    >
      <ChoiceField name="/method" label="How it was checked" choices={CHANNELS} />
      <TickField name="/reached" label="The notice had reached those who were to act" />
      <TickField name="/followed" label="They did what was asked" />
      <TextAreaField name="/note" label="What was found" required rows={2} />
    </CommandForm>
  );
}
