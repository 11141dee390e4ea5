import { useState } from 'react';
import { useLocation } from 'wouter';
import { instantOfLocal } from '../app/clock.js';
import { useMe } from '../app/session.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField, TextAreaField, TextField, TickField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Hazard } from '../design/hazard.js';
import { Said } from '../design/said.js';
import { server } from '../wire/client.js';
import type { BodyOf } from '../wire/use-command.js';
import { KIND_FORMS } from './kind-forms.js';
import type { RunKind } from './run.js';
import { useDoing } from './use-doing.js';
import { type Typed, useTyped } from './use-typed.js';
import { useWhere, VesselHolds } from './start-where.js';

interface ReworkAsked {
  readonly report: string;
  readonly disposition: number;
  readonly lot: string;
  readonly pieces: string | null;
}
const KEEP = { staleTime: 60_000 };

/** The form of one kind of run: only what that kind asks for, filled in as far as it is known. */
export function StartForm({
  kind,
  vessel,
  item: askedItem,
  rework,
}: {
  kind: RunKind;
  vessel: string | null;
  item: string | null;
  rework: ReworkAsked | null;
}) {
  const [, go] = useLocation();
  const [kept, setKept] = useState('');
  const { person } = useMe();
  const form = KIND_FORMS[kind];
  const typed = useTyped(`start ${kind} ${rework === null ? '' : `${rework.report} ${rework.disposition}`}`);
  const doing = useDoing();
  const items = server.useQuery('get', '/api/items', {}, KEEP).data ?? [];
  const item = typed.text('/item', askedItem ?? only(items.filter((one) => form.classes.includes(one.class)).map(({ code }) => code)));
  const found = items.find(({ code }) => code === item.trim());
  const choices = items
    .filter((one) => form.classes.length === 0 || form.classes.includes(one.class))
    .map(({ code, name }) => ({ code, says: name }));

  function body(values: FormValues): BodyOf<'/api/runs'> {
    const note = values.maybe('/note');
    const clearance = {
      confirmed: values.on('/clearance'),
      checkedBy: values.text('/clearance/checkedBy'),
      note: values.maybe('/clearance/note'),
    };
    return {
      kind,
      run: values.maybe('/run'),
      item: values.text('/item'),
      recipe: values.maybe('/recipe'),
      bom: values.maybe('/bom'),
      vessel: values.maybe('/vessel'),
      line: values.maybe('/line'),
      people: values.codes('/people').length > 0 ? values.codes('/people') : undefined,
      startedAt: instantOfLocal(values.text('/startedAt')) || doing.at(),
      planned: values.maybe('/planned'),
      clearance: form.clearance ? clearance : undefined,
      label: form.label ? { text: values.text('/label/text'), code: values.maybe('/label/code') } : undefined,
      takeHeel: values.on('/takeHeel') ? true : undefined,
      note,
    };
  }
  if (kept !== '') {
    return <Said says={kept} />;
  }
  return (
    <CommandForm
      path="/api/runs"
      submit={`Start ${kind}${found === undefined ? '' : ` ${found.name}`}`}
      keepAs={({ item: of }) => `Start of ${kind} ${of}`}
      body={body}
      onDone={({ run }) => {
        doing.over();
        typed.clear();
        go(`/production/runs/${encodeURIComponent(run)}`);
      }}
      onKept={() => {
        doing.over();
        typed.clear();
        setKept(
          'There is no connection. The start of this run is kept on this device and sent when the server is back; it gets its number then.',
        );
      }}
    >
      <div className="grid">
        <CodeField
          name="/item"
          label={kind === 'rework' ? 'What is reworked' : kind === 'repacking' ? 'What is packed' : 'What is made'}
          choices={choices}
          value={item}
          onValue={(text) => typed.set('/item', text)}
          required
        />
        <QuantityField
          label="Planned"
          unit={found === undefined ? undefined : found.unit === 'each' ? 'pieces' : found.unit}
          hint={form.recipe === 'needed' ? 'The recipe is scaled to it. Empty: as the recipe is written.' : undefined}
          {...typed.wired('/planned')}
        />
      </div>
      <Hazard of={found?.name} says={found?.hazard} />
      <MadeBy kind={kind} item={item.trim()} typed={typed} />
      <Where kind={kind} vessel={vessel} typed={typed} />
      {form.clearance ? <Clearance person={person} typed={typed} /> : null}
      {form.label ? (
        <div className="grid">
          <TextAreaField label="Text of the label, as it is printed" required rows={2} {...typed.wired('/label/text')} />
          <TextField label="Code or revision of the label" code {...typed.wired('/label/code')} />
        </div>
      ) : null}
      <TextAreaField
        label="Note"
        rows={2}
        {...typed.wired(
          '/note',
          rework === null
            ? ''
            : `For ${rework.report}, disposition ${rework.disposition}: ${rework.lot}${rework.pieces === null ? '' : ` pieces ${rework.pieces}`}`,
        )}
      />
      <details className="more">
        <summary>Another time, other people, a number of your own</summary>
        <div className="grid">
          <TextField label="When it began" type="datetime-local" hint="Empty: now." {...typed.wired('/startedAt')} />
          <TextField
            label="Who works on it"
            code
            hint={`Codes of people, with blanks between. Empty: ${person}.`}
            {...typed.wired('/people')}
          />
          <TextField label="Number of the run" code hint="Empty: the next one." {...typed.wired('/run')} />
        </div>
      </details>
    </CommandForm>
  );
}

const only = (codes: readonly string[]): string => (codes.length === 1 ? (codes[0] ?? '') : '');

/** Recipes and bills of materials that make the item; the only one is chosen already. */
function MadeBy({ kind, item, typed }: { kind: RunKind; item: string; typed: Typed }) {
  const form = KIND_FORMS[kind];
  const recipes = (server.useQuery('get', '/api/recipes', {}, KEEP).data ?? []).filter((one) => one.item === item);
  const boms = (server.useQuery('get', '/api/boms', {}, KEEP).data ?? []).filter((one) => one.item === item);
  const choose = (name: string, label: string, ask: 'needed' | 'may' | 'no', all: readonly { code: string; name: string }[]) =>
    ask === 'no' || (ask === 'may' && all.length === 0) ? null : (
      <ChoiceField
        label={label}
        none={ask === 'needed' ? 'choose one' : 'none'}
        choices={all.map(({ code, name: says }) => ({ value: code, says: `${code} ${says}` }))}
        hint={item !== '' && all.length === 0 ? `There is none for ${item}: set it up under Set-up.` : undefined}
        required={ask === 'needed'}
        {...typed.wired(name, all.some(({ code }) => code === typed.text(name)) ? undefined : only(all.map(({ code }) => code)))}
      />
    );
  return (
    <div className="grid">
      {choose('/recipe', 'Recipe', form.recipe, recipes)}
      {choose('/bom', 'Bill of materials', form.bom, boms)}
    </div>
  );
}

function Where({ kind, vessel, typed }: { kind: RunKind; vessel: string | null; typed: Typed }) {
  const form = KIND_FORMS[kind];
  const { vessels, lines } = useWhere();
  const chosen = typed.text('/vessel', vessel ?? '');
  return (
    <>
      <div className="grid">
        {form.vessel === 'no' ? null : (
          <ChoiceField
            label="Vessel"
            none={form.vessel === 'needed' ? 'choose one' : 'none'}
            choices={vessels}
            required={form.vessel === 'needed'}
            {...typed.wired('/vessel', vessel ?? '')}
          />
        )}
        {form.line === 'no' ? null : (
          <ChoiceField
            label="Line"
            none={form.line === 'needed' ? 'choose one' : 'none'}
            choices={lines}
            required={form.line === 'needed'}
            {...typed.wired('/line')}
          />
        )}
      </div>
      {chosen === '' || form.vessel === 'no' ? null : <VesselHolds vessel={chosen} />}
    </>
  );
}

function Clearance({ person, typed }: { person: string; typed: Typed }) {
  return (
    <fieldset className="sheet form">
      <legend>Line clearance</legend>
      <TickField
        name="/clearance"
        label="The line was checked clear of the product before, its labels and its material"
        hint="Filling and building do not begin without it."
      />
      <div className="grid">
        <TextField label="Who checked" code required {...typed.wired('/clearance/checkedBy', person)} />
        <TextField label="What was found" {...typed.wired('/clearance/note')} />
      </div>
    </fieldset>
  );
}
