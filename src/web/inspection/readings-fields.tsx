import { QuantityField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import type { View } from '../wire/client.js';

type Characteristic = View<'CharacteristicView'>;

/** What is entered for each reading, as people say it. */
const COLUMNS: Readonly<Record<string, string>> = {
  value: 'Reading',
  mass: 'Mass',
  volume: 'Volume',
  l: 'L*',
  a: 'a*',
  b: 'b*',
  net: 'Net',
  gross: 'Gross',
  tare: 'Tare',
};
const says = (column: string): string => COLUMNS[column] ?? column;

/** A field for each number that is read: a line for each reading. `at` is the JSON pointer of the readings in the body. */
export function ReadingsFields({ of, at, lines }: { of: Characteristic; at: string; lines: number }) {
  const single = of.columns.length === 1;
  const fields = Array.from({ length: lines }, (_, line) => (
    <div className="row readings" key={line}>
      {of.columns.map((column) => (
        <QuantityField
          key={column}
          name={`${at}/${line}/${column}`}
          label={lines === 1 ? says(column) : `${says(column)} ${line + 1}`}
          unit={single && column === 'value' ? (of.unit ?? undefined) : undefined}
          required
        />
      ))}
    </div>
  ));
  if (lines === 1) return <>{fields}</>;
  return (
    <fieldset>
      <legend>{lines} readings</legend>
      {fields}
    </fieldset>
  );
}

/** A line of readings as the API document types it: an object of which it says no more. */
type Line = Record<string, never>;

/** What was typed into them. */
export const readingsOf = (values: FormValues, of: Characteristic, at: string, lines: number): Line[] =>
  Array.from(
    { length: lines },
    (_, line) => Object.fromEntries(of.columns.map((column) => [column, values.text(`${at}/${line}/${column}`)])) as Line,
  );
