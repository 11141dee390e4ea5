import { useState } from 'react';
import { useLocation } from 'wouter';
import { CodeField } from '../design/code-field.js';
import { TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { Section } from '../design/page.js';
import { server } from '../wire/client.js';

/** To the build record of a unit, for who has no scanner at hand. */
export function UnitBox() {
  const [, go] = useLocation();
  const { data } = server.useQuery('get', '/api/items', {}, { staleTime: 60_000 });
  const [item, setItem] = useState<string | null>(null);
  const withSerials = (data ?? []).filter(({ tracking, class: kind }) => tracking === 'serial' && kind === 'assembled');
  if (withSerials.length === 0) return null;
  return (
    <Section title="Build record of a unit" note="what it was built of, and what is in it now">
      <Form
        problem={null}
        onSubmit={(values) =>
          go(`/production/units/${encodeURIComponent(values.text('/item'))}/${encodeURIComponent(values.text('/serial'))}`)
        }
      >
        <div className="row end">
          <CodeField
            name="/item"
            label="Item"
            choices={withSerials.map(({ code, name }) => ({ code, says: name }))}
            value={item ?? withSerials[0]?.code ?? ''}
            onValue={setItem}
            required
          />
          <TextField name="/serial" label="Serial" code required />
          <button type="submit">Open its record</button>
        </div>
      </Form>
    </Section>
  );
}
