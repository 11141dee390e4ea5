import { useLocation } from 'wouter';
import type { Role } from '../app/session.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { TextField } from '../design/fields.js';
import { Notice, Page } from '../design/page.js';
import { addressOf } from './book.js';
import { Crumb } from './crumb.js';
import { PasswordFields, passwordFaults } from './password-fields.js';
import { RoleFields } from './role-fields.js';

/** Adds a person under a code that stays theirs. */
export function NewPerson() {
  const [, go] = useLocation();
  const may = useMay('administrator');
  return (
    <Page
      title="New person"
      crumb={<Crumb place="people" title="People" />}
      sub="The code goes into every entry they make and is never given to anyone else. The name stands beside the ledger and can be erased."
    >
      {may ? (
        <CommandForm
          path="/api/people"
          submit="Add the person"
          check={(values) => passwordFaults(values, '/password')}
          body={(values) => ({
            person: values.text('/person'),
            displayName: values.maybe('/displayName'),
            roles: values.all<Role>('/roles'),
            password: values.password('/password') === '' ? undefined : values.password('/password'),
          })}
          onDone={({ person }) => go(addressOf('people', person))}
        >
          <div className="grid">
            <TextField
              name="/person"
              label="Code"
              code
              required
              maxLength={64}
              hint="initials or a staff number, as lia.clerk; case and leading zeros count"
            />
            <TextField name="/displayName" label="Name" maxLength={200} hint="shown beside the code; left empty: none is kept" />
          </div>
          <RoleFields />
          <PasswordFields
            name="/password"
            label="First password"
            required={false}
            hint="at least 12 characters; tell them to change it. Left empty: they use keys only"
          />
        </CommandForm>
      ) : (
        <Notice>
          <p>People are added by administrators.</p>
        </Notice>
      )}
    </Page>
  );
}
