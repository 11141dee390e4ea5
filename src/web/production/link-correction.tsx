import { useState } from 'react';
import { capital } from '../../../shared/written.js';
import { instantOfLocal } from '../app/clock.js';
import { useLocations } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField, TextAreaField, TextField, TickField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Section } from '../design/page.js';
import { Said } from '../design/said.js';
import type { View } from '../wire/client.js';
import type { BodyOf } from '../wire/use-command.js';
import { RUN_KINDS, type RunKind } from './run.js';
import { useTyped } from './use-typed.js';

type Body = BodyOf<'/api/link-corrections'>;

/** Voids links recorded in error and records one that was missed. Both the old and the new stay readable. @see docs/rules/production.md P-54 to P-57 */
export function LinkCorrection({
  code,
  links,
  voids,
  onDone,
}: {
  code: string;
  links: readonly View<'RecordedLinkView'>[];
  voids: ReadonlySet<string>;
  onDone: () => void;
}) {
  const typed = useTyped(`links ${code}`);
  const locations = useLocations();
  const [said, setSaid] = useState('');
  const adds = typed.text('/links/0/from') !== '' || typed.text('/links/0/to') !== '';
  function body(values: FormValues): Body {
    const late = {
      from: values.text('/links/0/from'),
      fromPieces: values.maybe('/links/0/fromPieces'),
      to: values.text('/links/0/to'),
      toPieces: values.maybe('/links/0/toPieces'),
      quantity: values.maybe('/links/0/quantity'),
      map: values.on('each') ? ('each' as const) : undefined,
      at: instantOfLocal(values.text('/links/0/at')),
    };
    return {
      run: code,
      kind: values.choice<RunKind>('/kind'),
      reason: values.text('/reason'),
      voids: [...voids].map((key) => ({ seq: Number(key.split('.')[0]), ord: Number(key.split('.')[1]) })),
      links: adds ? [late] : [],
      location: values.maybe('/location'),
    };
  }
  const words = [voids.size > 0 ? `void ${voids.size} of ${links.length} links` : '', adds ? 'record one link' : '']
    .filter((word) => word !== '')
    .join(' and ');
  return (
    <Section title="Put the links right" note="tick what was recorded in error above, or add what was missed">
      <Said says={said} />
      <CommandForm
        path="/api/link-corrections"
        submit={words === '' ? 'Put the links right' : capital(words)}
        body={body}
        check={() => (words === '' ? [{ code: 'not-filled-in', detail: 'Tick a link to void, or say what went into what' }] : [])}
        onDone={() => {
          typed.clear();
          onDone();
          setSaid('The links are put right; the entry names what it voided and what it recorded.');
        }}
      >
        <ChoiceField
          label="Kind of step"
          choices={RUN_KINDS.map((kind) => ({ value: kind, says: kind }))}
          {...typed.wired('/kind', links[0]?.kind ?? 'mixing')}
        />
        <fieldset className="sheet form">
          <legend>A link that was missed</legend>
          <div className="grid">
            <TextField label="From lot" code {...typed.wired('/links/0/from')} />
            <TextField label="Its pieces" code hint="Empty: all, or a bulk lot." {...typed.wired('/links/0/fromPieces')} />
            <TextField label="Into lot" code {...typed.wired('/links/0/to')} />
            <TextField label="Its pieces" code hint="Empty: all, or a bulk lot." {...typed.wired('/links/0/toPieces')} />
            <QuantityField label="Quantity, of a bulk lot" {...typed.wired('/links/0/quantity')} />
            <TextField label="When it went in" type="datetime-local" required={adds} {...typed.wired('/links/0/at')} />
          </div>
          <TickField name="each" label="Piece by piece, in order" />
        </fieldset>
        <CodeField
          name="/location"
          label="Where what was taken in error stands"
          choices={locations}
          value={typed.text('/location')}
          onValue={(text) => typed.set('/location', text)}
        />
        <TextAreaField label="Why" required rows={2} {...typed.wired('/reason')} />
      </CommandForm>
    </Section>
  );
}
