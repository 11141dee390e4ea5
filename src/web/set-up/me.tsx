import { useMemo, useState } from 'react';
import { useMe } from '../app/session.js';
import { TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { FormButtons } from '../design/form-buttons.js';
import { Entries } from '../design/entries.js';
import { Page, Section } from '../design/page.js';
import { Said } from '../design/said.js';
import { api, type View } from '../wire/client.js';
import type { Problem } from '../wire/problem.js';
import { Crumb } from './crumb.js';
import { PasswordFields, passwordFaults } from './password-fields.js';
import { roleMay, roleTitle } from './role-words.js';
import { useAsked } from './use-asked.js';

/** What I may do, and my password. */
export function Me() {
  const me = useMe();
  return (
    <Page
      title={me.displayName ?? me.person}
      crumb={<Crumb />}
      sub={
        <>
          You act as <code>{me.person}</code>: so every entry you make names you.
        </>
      }
    >
      <Section title="You may" note="what you may not, nobody can lend you: an administrator sets roles">
        <dl className="roles-of">
          {me.roles.map((role) => (
            <div key={role}>
              <dt>{roleTitle(role)}</dt>
              <dd>{roleMay(role)}</dd>
            </div>
          ))}
        </dl>
      </Section>
      <ChangePassword />
      <Entries about={{ person: me.person }} />
    </Page>
  );
}

/** The answer to a wrong password names no field: there is only one that it can mean. */
const withField = (problem: Problem): Problem => ({
  ...problem,
  title: problem.reasons.some(({ code }) => code === 'sign-in-refused') ? 'The password is not changed' : problem.title,
  reasons: problem.reasons.map((reason) => (reason.code === 'sign-in-refused' ? { ...reason, pointer: '/currentPassword' } : reason)),
});

function ChangePassword() {
  const { busy, problem, ask } = useAsked<View<'DoneView'>>();
  const shown = useMemo(() => problem && withField(problem), [problem]);
  // A new form for each change: what was typed does not stand there any longer.
  const [changed, setChanged] = useState(0);
  return (
    <Section title="My password" note="asked for again with every signature: whoever has it signs as you">
      <Said says={changed === 0 ? null : 'The password is changed. Every other session of yours has ended; this one goes on.'} />
      <Form
        key={changed}
        label="Change my password"
        problem={shown}
        check={(values) => passwordFaults(values, '/newPassword')}
        onSubmit={(values) =>
          void ask(
            () =>
              api.POST('/api/me/password', {
                body: { currentPassword: values.password('/currentPassword'), newPassword: values.password('/newPassword') },
              }),
            () => setChanged((before) => before + 1),
          )
        }
      >
        <div className="grid">
          <TextField name="/currentPassword" label="Password now" type="password" autoComplete="current-password" required />
        </div>
        <PasswordFields name="/newPassword" label="New password" required />
        <FormButtons submit="Change the password" busy={busy} />
      </Form>
    </Section>
  );
}
