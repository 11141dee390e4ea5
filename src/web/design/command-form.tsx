import type { ReactNode } from 'react';
import type { Reason } from '../../../shared/refusal.js';
import { type AddressOf, type AnswerOf, type BodyOf, type PostPath, useCommand } from '../wire/use-command.js';
import { TextAreaField, TextField } from './fields.js';
import type { FormValues } from './form-values.js';
import { Form } from './form.js';
import { FormButtons } from './form-buttons.js';

/** A form that is one command: its fields, its button, what the server refused and why. */
export function CommandForm<Path extends PostPath>({
  path,
  address,
  body,
  submit,
  danger = false,
  signs,
  keepAs,
  check,
  onDone,
  onKept,
  onCancel,
  children,
}: {
  path: Path;
  address?: AddressOf<Path>;
  /** What is sent, from what was typed. Names of fields are JSON pointers into it. For a signed command, without password and reason. */
  body: (values: FormValues) => BodyOf<Path> | Omit<BodyOf<Path>, 'password' | 'reason'>;
  /** What the button says it will do. */
  submit: string;
  danger?: boolean;
  /** What the signature will mean, as `that lot R26-00012 is released`. With it the form asks for the reason and the password. */
  signs?: ReactNode;
  keepAs?: (body: BodyOf<Path>) => string;
  check?: (values: FormValues) => Reason[];
  onDone: (answer: AnswerOf<Path>) => void;
  onKept?: () => void;
  onCancel?: () => void;
  children?: ReactNode;
}) {
  const command = useCommand<Path>(path, { address, keepAs });
  async function send(values: FormValues): Promise<void> {
    const signed = signs === undefined ? {} : { reason: values.text('/reason'), password: values.password('/password') };
    const outcome = await command.run({ ...body(values), ...signed } as BodyOf<Path>);
    if ('done' in outcome) onDone(outcome.done);
    else if ('kept' in outcome) onKept?.();
  }
  return (
    <Form problem={command.problem} check={check} onSubmit={(values) => void send(values)}>
      {children}
      {signs === undefined ? null : <Signature meaning={signs} />}
      <FormButtons submit={submit} danger={danger} busy={command.busy} onCancel={onCancel} />
    </Form>
  );
}

/** A signature restates what it means before it is given; the password is asked for every time and never kept. */
function Signature({ meaning }: { meaning: ReactNode }) {
  return (
    <fieldset className="sheet form">
      <legend>Signature</legend>
      <p>
        You sign <strong>{meaning}</strong>. The record keeps your name, the time and the reason with it for good.
      </p>
      <TextAreaField name="/reason" label="Reason" required rows={2} />
      <TextField name="/password" label="Your password" type="password" autoComplete="current-password" required />
    </fieldset>
  );
}
