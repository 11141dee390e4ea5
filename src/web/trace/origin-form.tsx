import { useState } from 'react';
import { instantOfLocal } from '../app/clock.js';
import { useItems, useParties } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Form } from '../design/form.js';
import { parseSpans } from '../../../shared/spans.js';
import type { Reason } from '../../../shared/refusal.js';
import { server } from '../wire/client.js';
import { lacksTime, type Origin, type Question } from './question.js';
import type { Ask } from './use-question.js';

const KINDS = [
  { value: 'lots', says: 'one or several lots' },
  { value: 'pieces', says: 'some pieces of a lot' },
  { value: 'serial', says: 'a unit by its serial' },
  { value: 'supplierLot', says: 'a supplier’s lot' },
  { value: 'shipment', says: 'a shipment' },
  { value: 'run', says: 'everything of a run or a delivery' },
  { value: 'vessel', says: 'a vessel between two cleanings' },
  { value: 'line', says: 'a line in a time' },
  { value: 'instrument', says: 'what an instrument judged' },
] as const;
type Kind = (typeof KINDS)[number]['value'];

/** Starting points that no single code names. */
export function OriginForm({ question, ask }: { question: Question; ask: Ask }) {
  const unfinished = lacksTime(question.origin);
  const [kind, setKind] = useState<Kind>(unfinished ? 'line' : 'lots');
  return (
    <details className="trace-more" open={unfinished || undefined}>
      <summary>More ways to start</summary>
      <Form
        problem={null}
        label="Where the trace starts"
        check={(values) => checkOrigin(kind, values)}
        onSubmit={(values) => ask({ origin: originOf(kind, values), text: null, chosen: null })}
      >
        <div className="grid">
          <ChoiceField
            name="/kind"
            label="Start from"
            choices={KINDS}
            value={kind}
            onChange={(event) => setKind(event.target.value as Kind)}
          />
          <KindFields kind={kind} origin={question.origin} />
        </div>
        <div className="row">
          <button type="submit" className="primary">
            Trace from this
          </button>
        </div>
      </Form>
    </details>
  );
}

function checkOrigin(kind: Kind, values: FormValues): Reason[] {
  if (kind === 'pieces') {
    try {
      parseSpans(values.text('/pieces'));
    } catch (error) {
      return [{ code: 'pieces-malformed', detail: error instanceof Error ? error.message : String(error), pointer: '/pieces' }];
    }
  }
  const [from, to] = [values.text('/from'), values.text('/to')];
  if (kind === 'line' && from > to) return [{ code: 'window-reversed', detail: 'It ends before it begins', pointer: '/from' }];
  return [];
}

const given = (key: keyof Origin, value: string | undefined): Origin => (value === undefined || value === '' ? {} : { [key]: value });

function originOf(kind: Kind, values: FormValues): Origin {
  const time = (name: string): string => instantOfLocal(values.text(name));
  switch (kind) {
    case 'lots': {
      const [only, ...more] = values.codes('/lots');
      return more.length === 0 ? given('lot', only) : { lots: values.codes('/lots') };
    }
    case 'pieces':
      return { lot: values.text('/lot'), pieces: values.text('/pieces') };
    case 'serial':
      return { serial: values.text('/serial'), ...given('item', values.maybe('/item')) };
    case 'supplierLot':
      return { supplierLot: values.text('/supplierLot'), ...given('supplier', values.maybe('/supplier')) };
    case 'vessel':
      return { vessel: values.text('/vessel'), ...given('at', time('/at')) };
    case 'line':
      return { line: values.text('/line'), from: time('/from'), to: time('/to') };
    case 'instrument':
      return { instrument: values.text('/instrument'), ...given('from', time('/from')), ...given('to', time('/to')) };
    default:
      return { [kind]: values.text(`/${kind}`) };
  }
}

function KindFields({ kind, origin }: { kind: Kind; origin: Origin }) {
  const items = useItems();
  const suppliers = useParties('supplier');
  switch (kind) {
    case 'lots':
      return (
        <TextAreaField
          name="/lots"
          label="Lot codes"
          className="code"
          required
          rows={3}
          hint="With commas, blanks or line ends between them"
        />
      );
    case 'pieces':
      return (
        <>
          <TextField name="/lot" label="Lot" code required defaultValue={origin.lot} />
          <TextField name="/pieces" label="Piece numbers" code required hint="As 5-17,40" defaultValue={origin.pieces} />
        </>
      );
    case 'serial':
      return (
        <>
          <TextField name="/serial" label="Serial" code required />
          <CodeField name="/item" label="Item, if several have that serial" choices={items} />
        </>
      );
    case 'supplierLot':
      return (
        <>
          <TextField name="/supplierLot" label="Supplier’s lot" code required hint="As the supplier printed it" />
          <CodeField name="/supplier" label="Supplier, if several use that code" choices={suppliers} />
        </>
      );
    case 'shipment':
      return <TextField name="/shipment" label="Shipment" code required />;
    case 'run':
      return <TextField name="/run" label="Run or delivery" code required />;
    case 'vessel':
      return (
        <>
          <PlantField path="/api/vessels" name="/vessel" label="Vessel" />
          <TextField name="/at" label="A moment between the cleanings" type="datetime-local" hint="Left empty: since the last cleaning" />
        </>
      );
    case 'line':
      return (
        <>
          <PlantField path="/api/lines" name="/line" label="Line" initial={origin.line} />
          <TextField name="/from" label="From" type="datetime-local" required />
          <TextField name="/to" label="To" type="datetime-local" required />
        </>
      );
    case 'instrument':
      return (
        <>
          <PlantField path="/api/instruments" name="/instrument" label="Instrument" />
          <TextField name="/from" label="From" type="datetime-local" hint="Both left empty: since it was last known good" />
          <TextField name="/to" label="To" type="datetime-local" />
        </>
      );
  }
}

function PlantField({
  path,
  name,
  label,
  initial,
}: {
  path: '/api/vessels' | '/api/lines' | '/api/instruments';
  name: string;
  label: string;
  initial?: string | undefined;
}) {
  const { data } = server.useQuery('get', path, {}, { staleTime: 60_000 });
  const choices = (data ?? []).map((one) => ({ code: one.code, says: 'name' in one ? one.name : '' }));
  return <CodeField name={name} label={label} choices={choices} required initial={initial} />;
}
