import { useState } from 'react';
import { instantOfLocal } from '../app/clock.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField, QuantityField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Caution } from '../design/page.js';
import { Photographs } from '../design/photographs.js';
import type { StoredFile } from '../wire/upload-file.js';
import type { BodyOf } from '../wire/use-command.js';

type Body = BodyOf<'/api/instruments/{instrument}/calibrations'>;

const FOUND: readonly { value: Body['asFound']; says: string }[] = [
  { value: 'in-tolerance', says: 'in tolerance' },
  { value: 'out-of-tolerance', says: 'out of tolerance' },
];
const LEFT: readonly { value: Body['result']; says: string }[] = [
  { value: 'in-tolerance', says: 'in tolerance, as it was' },
  { value: 'adjusted-in-tolerance', says: 'adjusted, and in tolerance now' },
  { value: 'failed', says: 'failed: it may not be used' },
];

/** Records a calibration: how it was found, how it was left, by whom; readings where there are any. */
export function CalibrationForm({ instrument, onClose }: { instrument: string; onClose: () => void }) {
  const [lines, setLines] = useState(0);
  const [found, setFound] = useState<Body['asFound']>('in-tolerance');
  const [certificate, setCertificate] = useState<StoredFile | undefined>();
  const body = (values: FormValues): Body => ({
    asFound: found,
    result: values.choice<Body['result']>('/result'),
    calibratedBy: values.text('/calibratedBy'),
    calibratedAt: instantOfLocal(values.text('/calibratedAt')) || undefined,
    dueOn: values.maybe('/dueOn'),
    note: values.maybe('/note'),
    certificateFile: certificate?.sha256,
    ...(lines === 0
      ? {}
      : {
          readings: Array.from({ length: lines }, (_, line) => ({
            nominal: values.text(`/readings/${line}/nominal`),
            found: values.text(`/readings/${line}/found`),
            tolerance: values.text(`/readings/${line}/tolerance`),
          })),
        }),
  });
  return (
    <Dialog title={`Calibration of ${instrument}`} onClose={onClose}>
      <CommandForm
        path="/api/instruments/{instrument}/calibrations"
        address={{ instrument }}
        body={body}
        submit="Record the calibration"
        onDone={onClose}
        onCancel={onClose}
      >
        <Readings lines={lines} onLines={setLines} />
        <ChoiceField
          name="/asFound"
          label="As found, before anybody adjusted it"
          choices={FOUND}
          value={found}
          onChange={(event) => setFound(event.target.value as Body['asFound'])}
        />
        {found === 'out-of-tolerance' ? (
          <Caution>
            <p>
              This puts in doubt everything it measured since it was last known good, and stops the release of lots that rest on it until
              quality has answered.
            </p>
          </Caution>
        ) : null}
        <ChoiceField name="/result" label="As left" choices={LEFT} />
        <TextField name="/calibratedBy" label="Laboratory or person" required />
        <TextField name="/calibratedAt" label="When it was calibrated" type="datetime-local" hint="left out: now" />
        <TextField name="/dueOn" label="Due already on" type="date" hint="left out: as its interval says; never later" />
        <TextAreaField name="/note" label="Note" rows={2} />
        <Photographs label="Certificate" files={certificate ? [certificate] : []} onFiles={(files) => setCertificate(files.at(-1))} />
      </CommandForm>
    </Dialog>
  );
}

function Readings({ lines, onLines }: { lines: number; onLines: (lines: number) => void }) {
  return (
    <fieldset>
      <legend>Readings as found</legend>
      {Array.from({ length: lines }, (_, line) => (
        <div className="row readings" key={line}>
          <QuantityField name={`/readings/${line}/nominal`} label={`Reference ${line + 1}`} required />
          <QuantityField name={`/readings/${line}/found`} label={`Showed ${line + 1}`} required />
          <QuantityField name={`/readings/${line}/tolerance`} label={`Tolerance ± ${line + 1}`} required />
        </div>
      ))}
      <div className="row reading-lines">
        <button type="button" onClick={() => onLines(lines + 1)}>
          Add a reading
        </button>
        {lines === 0 ? null : (
          <button type="button" onClick={() => onLines(lines - 1)}>
            Take the last one off
          </button>
        )}
      </div>
    </fieldset>
  );
}
