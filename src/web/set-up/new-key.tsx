import { useEffect, useRef, useState } from 'react';
import type { Role } from '../app/session.js';
import { CodeField } from '../design/code-field.js';
import { ChoiceField, TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { Caution, Section } from '../design/page.js';
import { api, server, type View } from '../wire/client.js';
import { roleTitle } from './role-words.js';
import { useAsked } from './use-asked.js';

type Made = View<'NewKeyView'>;

/** Makes a key, and shows it the one time it can be seen. */
export function NewKey() {
  const [made, setMade] = useState<Made | null>(null);
  return (
    <>
      {made === null ? null : <ShownOnce made={made} onSeen={() => setMade(null)} />}
      <KeyForm key={made?.id} onMade={setMade} />
    </>
  );
}

function KeyForm({ onMade }: { onMade: (made: Made) => void }) {
  const people = (server.useQuery('get', '/api/people').data ?? []).filter(({ blocked }) => !blocked);
  const [person, setPerson] = useState('');
  const { busy, problem, ask } = useAsked<Made>();
  const roles = people.find((one) => one.person === person.trim())?.roles ?? [];
  return (
    <Section title="New key">
      <Form
        label="A new key"
        problem={problem}
        onSubmit={(values) =>
          void ask(
            () =>
              api.POST('/api/keys', {
                body: { person: values.text('/person'), label: values.text('/label'), role: values.maybe('/role') as Role | undefined },
              }),
            onMade,
          )
        }
      >
        <div className="grid">
          <TextField name="/label" label="What it is for" required maxLength={200} hint="as: label printer at the dock" />
          <CodeField
            name="/person"
            label="Acts as"
            required
            choices={people.map((one) => ({ code: one.person, says: one.displayName ?? '' }))}
            value={person}
            onValue={setPerson}
            hint="a person of its own tells the program’s entries from yours"
          />
          <ChoiceField
            name="/role"
            label="In role"
            none="all of theirs"
            choices={roles.map((value) => ({ value, says: `only ${roleTitle(value).toLowerCase()}` }))}
            hint="no more than it needs"
          />
        </div>
        <div className="row">
          <button type="submit" className="primary" disabled={busy}>
            {busy ? 'Making …' : 'Make the key'}
          </button>
        </div>
      </Form>
    </Section>
  );
}

/** The key itself, selected and ready to be copied; it is shown nowhere else and never again. */
function ShownOnce({ made, onSeen }: { made: Made; onSeen: () => void }) {
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    field.current?.focus();
    field.current?.select();
  }, []);
  return (
    <section className="section shown-once" aria-label="The new key">
      <Caution>
        <p>
          <strong>This is shown once.</strong> Copy it now to where “{made.label}” keeps its secrets; the record holds only what it takes to
          recognise it. Whoever has it acts as {made.person}.
        </p>
      </Caution>
      <label htmlFor="shown-once">The key, for the header Authorization: Bearer</label>
      <input ref={field} id="shown-once" className="code" readOnly value={made.key} onFocus={(event) => event.currentTarget.select()} />
      <button type="button" onClick={onSeen}>
        I have copied it
      </button>
    </section>
  );
}
