import type { ReactNode } from 'react';
import { useLocations } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import type { ActionProps, StockName } from './action-dialog.js';
import { type Lot, spansOfFate } from './lot.js';
import { PartField } from './part-field.js';
import { amountOf, briefPieces, fateWords, spansIn } from './words.js';

interface StockAction {
  readonly path:
    | '/api/stock/moves'
    | '/api/stock/scrap'
    | '/api/stock/retains'
    | '/api/stock/retains/taken-back'
    | '/api/stock/tests'
    | '/api/stock/supplier-returns';
  /** What will be done to the part. */
  readonly says: string;
  readonly submit: string;
  readonly done: string;
  readonly danger?: boolean;
  /** Fates that a part can be taken from. */
  readonly from: readonly string[];
}

const ACTIONS: Readonly<Record<StockName, StockAction>> = {
  move: { path: '/api/stock/moves', says: 'will be moved', submit: 'Move', done: 'moved', from: ['on-hand'] },
  scrap: {
    path: '/api/stock/scrap',
    says: 'will be scrapped, for good',
    submit: 'Scrap',
    done: 'scrapped',
    danger: true,
    from: ['on-hand', 'retained'],
  },
  retain: { path: '/api/stock/retains', says: 'will be kept as a retain sample', submit: 'Keep', done: 'kept', from: ['on-hand'] },
  'take-back': {
    path: '/api/stock/retains/taken-back',
    says: 'will be put back among the stock',
    submit: 'Put back',
    done: 'put back',
    from: ['retained'],
  },
  test: {
    path: '/api/stock/tests',
    says: 'will be recorded as destroyed in a test',
    submit: 'Record the test',
    done: 'recorded',
    danger: true,
    from: ['on-hand', 'retained'],
  },
  'supplier-return': {
    path: '/api/stock/supplier-returns',
    says: 'will be sent back to the supplier',
    submit: 'Send back',
    done: 'sent back',
    from: ['on-hand'],
  },
};

/** Something done to a part of the lot. Without a connection it is kept on this device and sent once. */
export function StockForm({ name, lot, selection, onClose, onDone }: ActionProps & { name: StockName }) {
  const { path, says, submit, done, danger = false, from } = ACTIONS[name];
  const body = (values: FormValues) => ({
    lot: lot.lot,
    pieces: values.maybe('/pieces'),
    quantity: values.maybe('/quantity'),
    from: values.maybe('/from'),
    reason: values.text('/reason'),
    ...own(name, values),
  });
  const single = from.length === 1 ? spansOfFate(lot, ...from) : [];
  return (
    <CommandForm
      path={path}
      body={body}
      submit={submit}
      danger={danger}
      keepAs={() => `${submit} ${lot.lot}`}
      onDone={({ document }) => onDone(`${document}: ${done}.`)}
      onKept={() => onDone('Kept on this device; it is sent when the server is back.')}
      onCancel={onClose}
    >
      <PartField lot={lot} selection={selection} otherwise={name === 'take-back' ? single : []} says={says} from={from} />
      {name === 'take-back' ? null : <From lot={lot} fates={from} />}
      <Own name={name} lot={lot} />
      <TextAreaField name="/reason" label="Reason" required rows={2} />
    </CommandForm>
  );
}

/** The fields that only some of the actions have. */
function own(name: StockName, values: FormValues): Record<string, string | undefined> {
  if (name === 'move') return { to: values.text('/to') };
  if (name === 'retain') return { at: values.text('/at') };
  if (name === 'take-back') return { at: values.text('/at'), to: values.text('/to') };
  if (name === 'supplier-return') return { supplierDocument: values.text('/supplierDocument') };
  return { evidence: values.maybe('/evidence') };
}

function Own({ name, lot }: { name: StockName; lot: Lot }): ReactNode {
  const locations = useLocations();
  const kept = lot.places.filter(({ fate }) => fate === 'retained');
  if (name === 'move') return <CodeField name="/to" label="To" choices={locations} required />;
  if (name === 'retain') return <CodeField name="/at" label="Kept at" hint="location for retain samples" choices={locations} required />;
  if (name === 'take-back') {
    return (
      <>
        <ChoiceField name="/at" label="Kept at" choices={kept.map(({ at }) => ({ value: at, says: at }))} />
        <CodeField name="/to" label="To" choices={locations} required />
      </>
    );
  }
  if (name === 'supplier-return') return <TextField name="/supplierDocument" label="Number of the paper that goes with it" code required />;
  return <TextField name="/evidence" label="Evidence" hint="what shows that it was done: a slip, a witness, a report" />;
}

/** Where it is taken from, where there is more than one place to take from. */
function From({ lot, fates }: { lot: Lot; fates: readonly string[] }) {
  const places = lot.places.filter(({ fate }) => fates.includes(fate));
  const at = [...new Set(places.map((place) => place.at))];
  if (at.length < 2) return null;
  const says = (code: string): string =>
    places
      .filter((place) => place.at === code)
      .map(
        ({ fate, pieces, quantity }) =>
          `${fateWords(fate)} ${pieces === null ? amountOf(quantity, lot.unit) : briefPieces(spansIn(pieces))}`,
      )
      .join(', ');
  return (
    <ChoiceField
      name="/from"
      label="From"
      none={lot.pieces === null ? 'the place is told by the record' : 'wherever the pieces are'}
      choices={at.map((code) => ({ value: code, says: `${code}: ${says(code)}` }))}
    />
  );
}
