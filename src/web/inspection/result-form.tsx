import { useState } from 'react';
import { instantOfLocal } from '../app/clock.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { given } from '../design/form-values.js';
import { Photographs } from '../design/photographs.js';
import type { View } from '../wire/client.js';
import type { StoredFile } from '../wire/upload-file.js';
import { InstrumentField } from './instrument-field.js';
import { ReadingsFields, readingsOf } from './readings-fields.js';

type Characteristic = View<'CharacteristicView'>;
const AT = '/readings';

/** Records a test of the lot, or a retest with its reason. Kept and sent later where there is no connection. */
export function ResultForm({
  inspection,
  test,
  retestOf,
  onDone,
}: {
  inspection: string;
  test: Characteristic;
  retestOf: number | null;
  onDone: () => void;
}) {
  const [instrument, setInstrument] = useState('');
  const [files, setFiles] = useState<readonly StoredFile[]>([]);
  const [kept, setKept] = useState(false);
  const lines = test.replicates ?? 1;
  if (kept) return <p role="status">Kept on this device; it is sent when the server is back.</p>;
  return (
    <CommandForm
      path="/api/inspections/{inspection}/results"
      address={{ inspection }}
      body={(values) => ({
        characteristic: test.code,
        readings: readingsOf(values, test, AT, lines),
        instrument: given(instrument),
        measuredAt: instantOfLocal(values.text('/measuredAt')) || undefined,
        ...(retestOf === null ? {} : { retestOf, reason: values.text('/reason') }),
        ...(files.length === 0 ? {} : { files: files.map(({ sha256 }) => sha256) }),
      })}
      submit={retestOf === null ? `Record ${test.name}` : `Record the retest of ${test.name}`}
      keepAs={() => `${test.name} of ${inspection}`}
      onDone={onDone}
      onKept={() => setKept(true)}
      onCancel={retestOf === null ? undefined : onDone}
    >
      <ReadingsFields of={test} at={AT} lines={lines} />
      <InstrumentField
        name="/instrument"
        kind={test.instrumentKind}
        required={test.instrumentRequired}
        value={instrument}
        onValue={setInstrument}
        listen
      />
      {retestOf === null ? null : <TextAreaField name="/reason" label="Why it is tested again" required rows={2} />}
      <TextField name="/measuredAt" label="When it was measured" type="datetime-local" hint="left out: now" />
      <Photographs files={files} onFiles={setFiles} />
    </CommandForm>
  );
}
