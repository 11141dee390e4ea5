import { useState } from 'react';
import { useLocations } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Caution } from '../design/page.js';
import { Said } from '../design/said.js';
import { useScan } from '../scan/scans.js';
import { server, type View } from '../wire/client.js';
import type { BodyOf } from '../wire/use-command.js';
import { LotLine } from './lot-line.js';
import type { Run } from './run.js';
import { useDoing } from './use-doing.js';
import { useTyped } from './use-typed.js';

type Part = View<'BuiltPartView'>;
const NONE: readonly Part[] = [];

const keyOf = ({ lot, piece, seq }: Part): string => `${lot}|${piece ?? ''}|${seq}`;
const sayPart = ({ name, item, lot, serial, piece, anyOf }: Part): string =>
  `${name} (${item}): ${serial ?? lot}${serial === null && piece !== null ? ` piece ${piece}` : ''}${anyOf === null ? '' : `, any of ${anyOf}`}`;

/** One part out, one part in. The unit goes back into quarantine, for it is not the unit that was released. */
export function ReplaceForm({ run }: { run: Run }) {
  const typed = useTyped(`replace ${run.run}`);
  const doing = useDoing();
  const locations = useLocations();
  const [said, setSaid] = useState('');
  const serial = typed.text('/unit/serial').trim();
  const record = server.useQuery(
    'get',
    '/api/units/{item}/{serial}/build-record',
    { params: { path: { item: run.item, serial } } },
    { enabled: serial !== '' },
  );
  const parts = record.data?.asIs ?? NONE;
  const old = parts.find((part) => keyOf(part) === typed.text('old'));
  const needsPiece = old !== undefined && old.piece === null && old.anyOf !== null;

  function body(values: FormValues): BodyOf<'/api/runs/{run}/replacements'> {
    const code = values.text('/fitted/lot');
    const removed = {
      lot: old?.lot ?? '',
      piece: old?.piece ?? values.whole('/removed/piece'),
      quantity: values.maybe('/removed/quantity'),
    };
    const bySerial = old !== undefined && old.serial !== null;
    return {
      unit: { item: run.item, serial },
      removed,
      fitted: bySerial
        ? { item: old.item, serial: code }
        : { lot: code, piece: values.whole('/fitted/piece'), quantity: values.maybe('/fitted/quantity') },
      at: doing.at(),
      reason: values.text('/reason'),
      location: values.maybe('/location'),
    };
  }
  // A scan goes where the cursor is; without a cursor in this form it is a charge.
  useScan((scan, text) => {
    const at = document.activeElement?.getAttribute('name');
    if (scan.kind === 'faulty' || (at !== '/unit/serial' && at !== '/fitted/lot')) return false;
    typed.set(at, scan.kind === 'plain' ? text.trim() : (scan.serial ?? scan.lot ?? text.trim()));
    return true;
  });
  function over(words: string): void {
    doing.over();
    typed.clear();
    setSaid(words);
  }
  return (
    <div className="sheet charge-sheet">
      <h3>Replace a part</h3>
      <Said says={said} />
      <CommandForm
        path="/api/runs/{run}/replacements"
        address={{ run: run.run }}
        submit={old === undefined ? 'Replace the part' : `Replace ${old.name} in ${serial}`}
        keepAs={() => `Part replaced in ${serial}, ${run.run}`}
        body={body}
        check={() => (old === undefined ? [{ code: 'not-filled-in', detail: 'Which part comes out?', pointer: '/removed' }] : [])}
        onDone={() => over(`The part in ${serial} is replaced. The unit stands in quarantine until it is inspected and released again.`)}
        onKept={() => over(`The replacement in ${serial} is kept on this device and sent when the server is back.`)}
      >
        <TextField label="Unit, by its serial" hint="With the cursor here, scan it." code required {...typed.wired('/unit/serial')} />
        {record.error && serial !== '' ? (
          <Caution>
            <p>
              There is no {run.item} with serial {serial}.
            </p>
          </Caution>
        ) : null}
        {parts.length === 0 ? null : (
          <ChoiceField
            {...typed.wired('old')}
            name="/removed"
            label="Part that comes out"
            none="choose one"
            choices={parts.map((part) => ({ value: keyOf(part), says: sayPart(part) }))}
          />
        )}
        {needsPiece ? (
          <TextField
            label={`Which piece of ${old.lot}`}
            inputMode="numeric"
            hint={`Any of ${old.anyOf} may be in the unit.`}
            required
            {...typed.wired('/removed/piece')}
          />
        ) : null}
        {old === undefined ? null : (
          <div className="grid">
            <TextField
              label={old.serial === null ? 'Lot of the part that goes in' : `Serial of the ${old.name} that goes in`}
              code
              required
              {...typed.wired('/fitted/lot')}
            />
            {old.serial === null && old.piece !== null ? (
              <TextField label="Its piece number" inputMode="numeric" {...typed.wired('/fitted/piece')} />
            ) : null}
            {old.piece === null && old.anyOf === null ? (
              <>
                <QuantityField label="How many come out" hint="Empty: one." {...typed.wired('/removed/quantity')} />
                <QuantityField label="How many go in" hint="Empty: one." {...typed.wired('/fitted/quantity')} />
              </>
            ) : null}
          </div>
        )}
        {old === undefined || old.serial !== null || typed.text('/fitted/lot').trim() === '' ? null : (
          <NewPart lot={typed.text('/fitted/lot').trim()} old={old} unit={run.item} />
        )}
        <CodeField
          name="/location"
          label="Where the old part goes"
          choices={locations}
          hint="Empty: it is scrapped. Only a part with a number can be kept, apart and in quarantine."
          value={typed.text('/location')}
          onValue={(text) => typed.set('/location', text)}
        />
        <TextAreaField label="Why" required rows={2} {...typed.wired('/reason')} />
      </CommandForm>
    </div>
  );
}

/** The lot the new part is of, and a word where it is of another item than the part that comes out. */
function NewPart({ lot, old, unit }: { lot: string; old: Part; unit: string }) {
  const { data } = server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot } } });
  if (data === undefined) return null;
  return (
    <>
      <LotLine lot={data} />
      {data.item === old.item ? null : (
        <Caution>
          <p>
            {lot} is {data.itemName} ({data.item}), and what comes out is {old.name} ({old.item}). It goes in only where the bill of
            materials of {unit} now has it instead.
          </p>
        </Caution>
      )}
    </>
  );
}
