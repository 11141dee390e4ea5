import { formatSpans, parseSpans, spanSet, subtractSpans, unionSpans, type SpanSet } from '../../../shared/spans.js';
import { parseQuantity, MICRO } from '../../../shared/quantity.js';
import { CommandForm } from '../design/command-form.js';
import { TextField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import type { ChargeDrafting } from './charge-draft.js';
import type { Run } from './run.js';
import { firstPieces } from './take-from.js';
import { useDoing } from './use-doing.js';

/** Units that have a piece of this item already. */
const fittedUnits = (run: Run, item: string): SpanSet =>
  run.charges
    .filter((charge) => charge.item === item && charge.quantity !== '0')
    .reduce<SpanSet>((sum, { into }) => into.reduce<SpanSet>((all, { intoPieces }) => unionSpans(all, parseSpans(intoPieces)), sum), []);

/** The next units without one, as many as there are serials. */
export function nextUnits(run: Run, item: string, count: number): string {
  const planned = run.planned === null ? 0 : Math.floor(parseQuantity(run.planned) / MICRO);
  const last = Math.max(planned, count) + count;
  return formatSpans(firstPieces(subtractSpans(spanSet([[1, last]]), fittedUnits(run, item)), count));
}

const listPieces = (text: string): number[] => {
  try {
    return parseSpans(text).flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, i) => first + i));
  } catch {
    return [];
  }
};

/** Serials scanned one after the other, each opposite the unit it goes into; nothing is charged before the button is pressed. */
export function FittingList({ run, drafting, onDone }: { run: Run; drafting: ChargeDrafting; onDone: (words: string) => void }) {
  const doing = useDoing();
  const { draft, drop, emptied, type } = drafting;
  const item = draft.gathered[0]?.item ?? '';
  const own = draft.gathered.filter((one) => one.item === item);
  const units = draft.fields['units'] ?? nextUnits(run, item, own.length);
  const numbers = listPieces(units);
  return (
    <div className="sheet charge-sheet">
      <h3>
        {own.length} × {item} to be fitted
      </h3>
      <LedgerTable
        caption={`${item} scanned, and the units they go into`}
        rows={own.map((one, i) => ({ ...one, unit: numbers[i] }))}
        rowKey={({ serial }) => serial}
        columns={[
          { head: 'Unit', num: true, cell: ({ unit }) => unit ?? '?' },
          { head: 'Serial', cell: ({ serial }) => <code>{serial}</code> },
          { head: 'Of lot', cell: ({ lot }) => <code>{lot}</code> },
          {
            head: 'Wrong?',
            cell: ({ serial }) => (
              <button type="button" className="plain" onClick={() => drop(serial)}>
                Take off
              </button>
            ),
          },
        ]}
      />
      <CommandForm
        path="/api/runs/{run}/charges"
        address={{ run: run.run }}
        submit={`Fit ${own.length} into units ${units}`}
        keepAs={() => `${own.length} × ${item} into ${run.run}`}
        body={() => ({ charges: [{ item, serials: own.map(({ serial }) => serial), intoPieces: units, chargedAt: doing.at() }] })}
        onDone={() => {
          doing.over();
          emptied();
          onDone(`Fitted ${own.length} × ${item} into units ${units}.`);
        }}
        onKept={() => {
          doing.over();
          emptied();
          onDone(`${own.length} × ${item} for units ${units} are kept on this device and sent when the server is back.`);
        }}
        onCancel={emptied}
      >
        <TextField
          name="/charges/0/intoPieces"
          label="Into units"
          hint="In this order, one each. Scan on: every further serial goes into the next unit."
          code
          value={units}
          onChange={(event) => type('units', event.target.value)}
        />
      </CommandForm>
    </div>
  );
}
