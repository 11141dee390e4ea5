import { useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { QuantityField, TextField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { writtenQuantity } from '../../../shared/written.js';
import { server, type View } from '../wire/client.js';
import { addressOf, type Words } from './book.js';
import { HeadFields, headOf, submitWords } from './edit-page.js';
import { massOfSteps } from './mass-of-steps.js';
import { moved } from './moved.js';
import { bpOfPercent, PERCENT_PATTERN, percentOfBp } from './percent.js';
import { bodyOfStep, type DraftStep, draftOfSteps, emptyStep } from './recipe-draft.js';
import { StepFields } from './step-fields.js';

/** After a step was moved its button is where the step is now: whoever pressed it can press it again. */
function useFocusAfterMove(): { said: string; follow: (step: DraftStep, at: number, by: -1 | 1) => void } {
  const wanted = useRef<string | null>(null);
  const [said, setSaid] = useState('');
  useEffect(() => {
    if (wanted.current === null) return;
    const button = document.getElementById(wanted.current) as HTMLButtonElement | null;
    const other = document.getElementById(wanted.current.replace(/up$|down$/u, (end) => (end === 'up' ? 'down' : 'up')));
    (button?.disabled ? other : button)?.focus();
    wanted.current = null;
  }, [said]);
  return {
    said,
    follow(step, at, by) {
      wanted.current = `step-${step.id}-${by === -1 ? 'up' : 'down'}`;
      setSaid(`${step.item || 'The step'} is now step ${at + by + 1}`);
    },
  };
}

/** A new recipe or its next revision: the batch, its steps in order, and the yields that need no explanation. */
export function RecipeForm({ record, words }: { record: View<'RecipeView'> | null; words: Words }) {
  const [, go] = useLocation();
  const items = server.useQuery('get', '/api/items').data ?? [];
  const [steps, setSteps] = useState<readonly DraftStep[]>(() => draftOfSteps(record));
  const [made, setMade] = useState(record?.item ?? '');
  const { said, follow } = useFocusAfterMove();
  const unitOf = (code: string): string | undefined => items.find((item) => item.code === code.trim())?.unit;
  const choices = items.filter(({ unit }) => unit === 'kg' || unit === 'L').map(({ code, name }) => ({ code, says: name }));
  const mixtures = items.filter((item) => item.class === 'mixture').map(({ code, name }) => ({ code, says: name }));
  const change = (at: number, part: Partial<DraftStep>): void =>
    setSteps((before) => before.map((step, i) => (i === at ? { ...step, ...part } : step)));
  const mass = massOfSteps(steps, items);
  return (
    <CommandForm
      path="/api/recipes"
      submit={submitWords(words, record)}
      body={(values) => ({
        ...headOf(values, record),
        item: made.trim(),
        batch: values.text('/batch'),
        steps: steps.map(bodyOfStep),
        yieldLowBp: bpOfPercent(values.text('/yieldLowBp')),
        yieldHighBp: bpOfPercent(values.text('/yieldHighBp')),
      })}
      onDone={({ code }) => go(addressOf(words.place, code))}
    >
      <HeadFields record={record} />
      <div className="grid">
        <CodeField name="/item" label="Makes" hint="an item that is a mixture" required choices={mixtures} value={made} onValue={setMade} />
        <QuantityField name="/batch" label="One batch" unit={unitOf(made)} required defaultValue={record?.batch ?? ''} />
        <PercentField
          name="/yieldLowBp"
          label="Smallest yield (%)"
          initial={record?.yieldLowBp ?? 9500}
          hint="below it a run needs an explanation"
        />
        <PercentField name="/yieldHighBp" label="Largest yield (%)" initial={record?.yieldHighBp ?? 10_500} hint="above it too" />
      </div>
      <Section
        title="Steps"
        note={
          mass === null
            ? 'in the order in which they are charged'
            : `in the order in which they are charged; ${writtenQuantity(mass, 'kg')} together`
        }
      >
        <p role="status" className="hidden-but-read">
          {said}
        </p>
        {steps.map((step, at) => (
          <StepFields
            key={step.id}
            at={at}
            of={steps.length}
            step={step}
            unit={unitOf(step.item)}
            choices={choices}
            onChange={(part) => change(at, part)}
            onMove={(by) => {
              setSteps(moved(steps, at, by));
              follow(step, at, by);
            }}
            onTakeOut={() => setSteps(steps.toSpliced(at, 1))}
          />
        ))}
        <button type="button" onClick={() => setSteps([...steps, emptyStep(1 + Math.max(-1, ...steps.map(({ id }) => id)))])}>
          Add a step
        </button>
      </Section>
    </CommandForm>
  );
}

function PercentField({ name, label, initial, hint }: { name: string; label: string; initial: number; hint: string }) {
  return (
    <TextField
      name={name}
      label={label}
      inputMode="decimal"
      pattern={PERCENT_PATTERN}
      title="a percentage with at most two decimals"
      required
      defaultValue={percentOfBp(initial)}
      hint={hint}
    />
  );
}
