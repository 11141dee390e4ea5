import { useState } from 'react';
import { formatQuantity, parseQuantity } from '../../../shared/quantity.js';
import { countPieces, coversSpans, formatSpans, subtractSpans } from '../../../shared/spans.js';
import type { Reason } from '../../../shared/refusal.js';
import { writtenDate, writtenPieces } from '../../../shared/written.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { QuantityField, TextAreaField, TextField } from '../design/fields.js';
import { Caution, Notice } from '../design/page.js';
import { Photographs } from '../design/photographs.js';
import { server, type View } from '../wire/client.js';
import type { StoredFile } from '../wire/upload-file.js';
import { amount, partWritten } from './amounts.js';
import { readSpans } from './parts.js';
import type { Disposition, Report } from './report-parts.js';
import { kindWords } from './words.js';

const SUBMIT: Readonly<Record<Disposition['kind'], string>> = {
  concession: 'Put the concession into force',
  rework: 'Record the rework as carried out',
  repair: 'Record the repair as carried out',
  regrade: 'Regrade it',
  scrap: 'Scrap it',
  'return-to-supplier': 'Record the return to the supplier',
  sort: 'Record what sorting found',
};

/** Records that a signed disposition was carried out, with its evidence; it says beforehand what that does to how much. */
export function CarryOutForm({ report, one }: { report: Report; one: Disposition }) {
  const [files, setFiles] = useState<readonly StoredFile[]>([]);
  const [bad, setBad] = useState('');
  const isWork = one.kind === 'rework' || one.kind === 'repair';
  const isPaper = one.kind === 'scrap' || one.kind === 'return-to-supplier';
  return (
    <div className="nc-due-form">
      <h3>Carrying out disposition {one.disposition}</h3>
      <WhatItDoes one={one} />
      <CommandForm
        path="/api/reports/{report}/dispositions/{disposition}/carried-out"
        address={{ report: report.report, disposition: one.disposition }}
        body={(values) => ({
          run: values.maybe('/run'),
          document: values.maybe('/document'),
          note: values.text('/note'),
          files: files.length === 0 ? undefined : files.map(({ sha256 }) => sha256),
          sorted: one.kind === 'sort' ? sortedOf(one, bad) : undefined,
        })}
        check={() => (one.kind === 'sort' ? sortFaults(one, bad) : [])}
        submit={SUBMIT[one.kind]}
        danger={one.kind === 'scrap'}
        onDone={() => undefined}
      >
        {isWork ? <RunField one={one} /> : null}
        {isPaper ? (
          <TextField
            name="/document"
            label={one.kind === 'scrap' ? 'Scrap note' : 'Return note'}
            hint="Number of the paper that shows it"
            code
            required
          />
        ) : null}
        {one.kind === 'sort' ? <SortField one={one} bad={bad} onBad={setBad} /> : null}
        <TextAreaField name="/note" label="What was done" rows={2} required />
        <Photographs files={files} onFiles={setFiles} label="Evidence" />
      </CommandForm>
    </div>
  );
}

function WhatItDoes({ one }: { one: Disposition }) {
  const what = `${partWritten(one)} of ${one.lot}`;
  if (one.kind === 'scrap' || one.kind === 'return-to-supplier') {
    return (
      <Caution>
        <p>
          This takes <strong>{what}</strong> out of stock, wherever they are, as {kindWords(one.kind).done}.
        </p>
      </Caution>
    );
  }
  if (one.kind === 'concession') {
    return (
      <Caution>
        <p>
          From now on <strong>{what}</strong> may be used and shipped as they are, until {writtenDate(one.concession?.until ?? '')}, and
          stay marked.
        </p>
      </Caution>
    );
  }
  const says: Readonly<Partial<Record<Disposition['kind'], string>>> = {
    sort: 'What conforms is let go; what does not waits for another disposition.',
    regrade: `${what} become a lot of ${one.regradeTo ?? 'another item'}, in quarantine.`,
    rework: 'The run must be closed. This opens another inspection of the pieces; only its acceptance lets them go.',
    repair: 'The run must be closed. This opens another inspection of the pieces; only its acceptance lets them go.',
  };
  return (
    <Notice>
      <p>{says[one.kind]}</p>
    </Notice>
  );
}

function RunField({ one }: { one: Disposition }) {
  const { data } = server.useQuery('get', '/api/runs', {});
  const runs = (data ?? []).filter(({ kind }) => kind === 'rework');
  return (
    <CodeField
      name="/run"
      label={`Run in which it was ${kindWords(one.kind).done}`}
      choices={runs.map(({ run, state, name }) => ({ code: run, says: `${name}, ${state}` }))}
      required
    />
  );
}

function SortField({ one, bad, onBad }: { one: Disposition; bad: string; onBad: (text: string) => void }) {
  const faults = sortFaults(one, bad);
  const rest = faults.length > 0 ? null : sortedOf(one, bad).conforming;
  const says = rest === null ? 'Cannot be read yet' : rest === undefined ? 'None conform' : `The rest conform: ${restWritten(one, rest)}`;
  if (one.pieces === null) {
    return (
      <QuantityField
        name="/sorted/nonconforming/quantity"
        label="Of it do not conform"
        unit={one.unit}
        hint={says}
        value={bad}
        onChange={(event) => onBad(event.target.value)}
      />
    );
  }
  return (
    <TextField
      name="/sorted/nonconforming/pieces"
      label="Pieces that do not conform"
      code
      hint={says}
      value={bad}
      onChange={(event) => onBad(event.target.value)}
    />
  );
}

const restWritten = (one: Disposition, rest: View<'SortedPartDto'>): string =>
  rest.pieces === undefined ? amount(rest.quantity ?? '0', one.unit) : writtenPieces(countPieces(readSpans(rest.pieces) ?? []));

function quantityOf(text: string): number | null {
  try {
    return text.trim() === '' ? 0 : parseQuantity(text.trim());
  } catch {
    return null;
  }
}

function sortFaults(one: Disposition, bad: string): Reason[] {
  const no = (pointer: string, detail: string): Reason[] => [{ code: 'sorted-not-whole', detail, pointer }];
  if (one.pieces === null) {
    const micro = quantityOf(bad);
    return micro === null || micro < 0 || micro > parseQuantity(one.quantity)
      ? no('/sorted/nonconforming/quantity', `Between nothing and ${amount(one.quantity, one.unit)}`)
      : [];
  }
  const spans = readSpans(bad);
  return spans === null || !coversSpans(readSpans(one.pieces) ?? [], spans)
    ? no('/sorted/nonconforming/pieces', `Pieces of ${one.pieces}, as 5-17,40`)
    : [];
}

/** What does not conform was typed; everything else of the part conforms, for every item was looked at. */
function sortedOf(one: Disposition, bad: string): { conforming?: View<'SortedPartDto'>; nonconforming?: View<'SortedPartDto'> } {
  if (one.pieces === null) {
    const micro = quantityOf(bad) ?? 0;
    const rest = parseQuantity(one.quantity) - micro;
    return {
      ...(rest === 0 ? {} : { conforming: { quantity: formatQuantity(rest) } }),
      ...(micro === 0 ? {} : { nonconforming: { quantity: formatQuantity(micro) } }),
    };
  }
  const spans = readSpans(bad) ?? [];
  const rest = subtractSpans(readSpans(one.pieces) ?? [], spans);
  return {
    ...(rest.length === 0 ? {} : { conforming: { pieces: formatSpans(rest) } }),
    ...(spans.length === 0 ? {} : { nonconforming: { pieces: formatSpans(spans) } }),
  };
}
