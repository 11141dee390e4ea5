import type { ReactNode } from 'react';
import type { Role } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { FormButtons } from '../design/form-buttons.js';
import { Caution } from '../design/page.js';
import { api, type View } from '../wire/client.js';
import { PasswordFields, passwordFaults } from './password-fields.js';
import { RoleFields } from './role-fields.js';
import { rolesInWords } from './role-words.js';
import { useAsked } from './use-asked.js';

export type ActionName = 'roles' | 'password' | 'name' | 'block' | 'unblock';

interface Props {
  readonly person: View<'PersonView'>;
  readonly onClose: () => void;
  /** Says what was done. */
  readonly onDone: (said: string) => void;
}

const TITLES: Readonly<Record<ActionName, string>> = {
  roles: 'Change the roles of',
  password: 'A new password for',
  name: 'The name of',
  block: 'Block',
  unblock: 'Let in again:',
};

const FORMS: Readonly<Record<ActionName, (props: Props) => ReactNode>> = {
  roles: (props) => <Roles {...props} />,
  password: (props) => <Password {...props} />,
  name: (props) => <Name {...props} />,
  block: (props) => <Block {...props} />,
  unblock: (props) => <Unblock {...props} />,
};

/** The form of a change to a person, over their page. */
export function PersonAction({ name, ...props }: Props & { name: ActionName }) {
  return (
    <Dialog title={`${TITLES[name]} ${props.person.person}`} onClose={props.onClose}>
      {FORMS[name](props)}
    </Dialog>
  );
}

function Roles({ person, onClose, onDone }: Props) {
  return (
    <CommandForm
      path="/api/people/{person}/roles"
      address={{ person: person.person }}
      body={(values) => ({ roles: values.all<Role>('/roles'), reason: values.text('/reason') })}
      submit="Set these roles"
      onDone={({ roles }) => onDone(`${person.person} is ${rolesInWords(roles)} from now on.`)}
      onCancel={onClose}
    >
      <RoleFields initial={person.roles} />
      <TextAreaField name="/reason" label="Why" required rows={2} />
    </CommandForm>
  );
}

function Password({ person: { person }, onClose, onDone }: Props) {
  const { busy, problem, ask } = useAsked<View<'PersonView'>>();
  return (
    <Form
      problem={problem}
      check={(values) => passwordFaults(values, '/password')}
      onSubmit={(values) =>
        void ask(
          () =>
            api.POST('/api/people/{person}/password', { params: { path: { person } }, body: { password: values.password('/password') } }),
          () => onDone(`${person} has a new password; every session of theirs has ended.`),
        )
      }
    >
      <Caution>
        <p>
          Every session of {person} ends at once, wrong tries are forgotten, and the ledger keeps that you did this. Tell them the password
          in person, and to change it.
        </p>
      </Caution>
      <PasswordFields name="/password" label="New password" required />
      <FormButtons submit="Set the password" danger busy={busy} onCancel={onClose} />
    </Form>
  );
}

function Name({ person: { person, displayName }, onClose, onDone }: Props) {
  const { busy, problem, ask } = useAsked<View<'PersonView'>>();
  const set = (name: string | undefined): void =>
    void ask(
      () => api.POST('/api/people/{person}/name', { params: { path: { person } }, body: { displayName: name } }),
      (after) =>
        onDone(
          after.displayName === null
            ? `The name of ${person} is erased; entries keep the code.`
            : `${person} is called ${after.displayName}.`,
        ),
    );
  return (
    <Form problem={problem} onSubmit={(values) => set(values.text('/displayName'))}>
      <TextField
        name="/displayName"
        label="Name"
        required
        maxLength={200}
        defaultValue={displayName ?? ''}
        hint="stands beside the ledger; entries hold the code alone"
      />
      <FormButtons submit="Set the name" busy={busy} onCancel={onClose}>
        {displayName === null ? null : (
          <button type="button" className="danger" disabled={busy} onClick={() => set(undefined)}>
            Erase the name
          </button>
        )}
      </FormButtons>
    </Form>
  );
}

function Block({ person: { person }, onClose, onDone }: Props) {
  return (
    <CommandForm
      path="/api/people/{person}/block"
      address={{ person }}
      body={(values) => ({ reason: values.text('/reason') })}
      submit={`Block ${person}`}
      danger
      onDone={() => onDone(`${person} is out: no sign-in, no signature, no key.`)}
      onCancel={onClose}
    >
      <Caution>
        <p>{person} is out at once: every session ends, keys stop, nothing can be signed. What they did stays theirs.</p>
      </Caution>
      <TextAreaField name="/reason" label="Why" required rows={2} />
    </CommandForm>
  );
}

function Unblock({ person: { person }, onClose, onDone }: Props) {
  return (
    <CommandForm
      path="/api/people/{person}/unblock"
      address={{ person }}
      body={(values) => ({ reason: values.text('/reason') })}
      submit={`Let ${person} in again`}
      onDone={() => onDone(`${person} may act again.`)}
      onCancel={onClose}
    >
      <p>Their roles, password and keys are as they were before the block.</p>
      <TextAreaField name="/reason" label="Why" required rows={2} />
    </CommandForm>
  );
}
