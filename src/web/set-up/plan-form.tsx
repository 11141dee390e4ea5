import { useMemo } from 'react';
import { useLocation } from 'wouter';
import { useMe } from '../app/session.js';
import { type Choice, CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { useFaults } from '../design/form.js';
import { Section } from '../design/page.js';
import { useDraft } from '../outbox/use-draft.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Words } from './book.js';
import { type DraftCharacteristic, emptyCharacteristic } from './characteristic-draft.js';
import { CharacteristicFields } from './characteristic-fields.js';
import { submitWords } from './edit-page.js';
import { bodyOfPlan, type DraftPlan, draftOfPlan, type Occasion, OCCASIONS } from './plan-draft.js';
import { SamplingFields } from './sampling-fields.js';

type Plan = View<'InspectionPlanView'>;

/** A new inspection plan or its next revision. What is typed stays on this device until it is sent or cleared. */
export function PlanForm({ record, item, words }: { record: Plan | null; item: string; words: Words }) {
  const [, go] = useLocation();
  const { person } = useMe();
  const initial = useMemo(() => draftOfPlan(record, item), [record, item]);
  const name = record === null ? `new plan ${item}` : `plan ${record.code} revised from ${record.revision}`;
  const [draft, setDraft, clear] = useDraft<DraftPlan>(`${name} of ${person}`, initial);
  const set = (part: Partial<DraftPlan>): void => setDraft((before) => ({ ...before, ...part }));
  return (
    <CommandForm
      path="/api/inspection-plans"
      submit={submitWords(words, record)}
      check={() =>
        draft.occasions.length > 0
          ? []
          : [{ code: 'not-filled-in', detail: 'Tick at least one occasion: a plan opens inspections by itself', pointer: '/occasions' }]
      }
      body={(values) => ({
        ...bodyOfPlan(draft),
        ...(record === null ? {} : { revision: record.revision, reason: values.text('/reason') }),
      })}
      onDone={({ code }) => {
        clear();
        go(addressOf(words.place, code));
      }}
    >
      <Head record={record} draft={draft} set={set} />
      <SamplingFields sampling={draft.sampling} onChange={(sampling) => set({ sampling })} />
      <Characteristics list={draft.characteristics} onChange={(characteristics) => set({ characteristics })} />
      <TextAreaField name="/note" label="Remark" rows={2} value={draft.note} onChange={(event) => set({ note: event.target.value })} />
      {draft === initial ? null : (
        <p className="quiet">
          What is typed here stays on this device until it is sent.{' '}
          <button type="button" className="plain" onClick={clear}>
            Begin again
          </button>
        </p>
      )}
    </CommandForm>
  );
}

function Head({ record, draft, set }: { record: Plan | null; draft: DraftPlan; set: (part: Partial<DraftPlan>) => void }) {
  const items = server.useQuery('get', '/api/items').data ?? [];
  const planned = server.useQuery('get', '/api/inspection-plans').data ?? [];
  const choices = items
    .filter(({ code }) => !planned.some((plan) => plan.code === code))
    .map(({ code, name }): Choice => ({ code, says: name }));
  return (
    <>
      {record === null ? null : <TextAreaField name="/reason" label="Why it is revised" required rows={2} />}
      <div className="grid">
        {record === null ? (
          <CodeField
            name="/code"
            label="Item it is for"
            hint="an item has one plan; those without are listed"
            required
            choices={choices}
            value={draft.code}
            onValue={(code) => set({ code })}
          />
        ) : null}
        <TextField
          name="/name"
          label="Name"
          required
          maxLength={200}
          value={draft.name}
          onChange={(event) => set({ name: event.target.value })}
        />
      </div>
      <Occasions chosen={draft.occasions} onChange={(occasions) => set({ occasions })} />
    </>
  );
}

function Occasions({ chosen, onChange }: { chosen: readonly Occasion[]; onChange: (next: readonly Occasion[]) => void }) {
  const { id, faults } = useFaults('/occasions');
  const tick = (value: Occasion, on: boolean): Occasion[] =>
    OCCASIONS.map((one) => one.value).filter((one) => (one === value ? on : chosen.includes(one)));
  return (
    <fieldset className="field">
      <legend>It opens an inspection by itself when</legend>
      <div className="row occasions">
        {OCCASIONS.map(({ value, says }, at) => (
          <label key={value} className="check">
            <input
              type="checkbox"
              id={at === 0 ? id : undefined}
              checked={chosen.includes(value)}
              onChange={(event) => onChange(tick(value, event.target.checked))}
            />{' '}
            {says}
          </label>
        ))}
      </div>
      {faults.length === 0 ? null : <span className="fault">{faults.map(({ detail }) => detail).join('; ')}</span>}
    </fieldset>
  );
}

function Characteristics({
  list,
  onChange,
}: {
  list: readonly DraftCharacteristic[];
  onChange: (next: readonly DraftCharacteristic[]) => void;
}) {
  const defects = (server.useQuery('get', '/api/defects').data ?? []).map(({ code, name, severity }) => ({
    code,
    says: `${name}, ${severity}`,
  }));
  const instruments = server.useQuery('get', '/api/instruments').data ?? [];
  const kinds = [...new Set(instruments.map(({ kind }) => kind))].map((kind) => ({ code: kind, says: '' }));
  const add = (kind: DraftCharacteristic['kind']): void =>
    onChange([...list, emptyCharacteristic(1 + Math.max(-1, ...list.map(({ id }) => id)), kind)]);
  return (
    <Section title="Characteristics" note="what is looked at on each item, and what is measured">
      {list.map((one, at) => (
        <CharacteristicFields
          key={one.id}
          at={at}
          one={one}
          defects={defects}
          kinds={kinds}
          onChange={(part) => onChange(list.map((other, i) => (i === at ? { ...other, ...part } : other)))}
          onTakeOut={() => onChange(list.toSpliced(at, 1))}
        />
      ))}
      <div className="row">
        <button type="button" onClick={() => add('attribute')}>
          Add what is looked at
        </button>
        <button type="button" onClick={() => add('measured')}>
          Add what is measured
        </button>
      </div>
    </Section>
  );
}
