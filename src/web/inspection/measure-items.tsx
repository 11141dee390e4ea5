import { useState } from 'react';
import { CommandForm } from '../design/command-form.js';
import { TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Section } from '../design/page.js';
import { LimitsStripPicture } from '../pictures/limits-strip.js';
import type { View } from '../wire/client.js';
import { InstrumentField } from './instrument-field.js';
import { ReadingsFields, readingsOf } from './readings-fields.js';
import { sampleNow } from './tally.js';
import { writtenItems } from './words.js';

type Inspection = View<'InspectionView'>;
type Characteristic = View<'CharacteristicView'>;
type Measured = View<'MeasuredView'>;

/** Items of the sample that are measured one by one: each is written down at once, and judged against the limits. */
export function MeasureItems({ of }: { of: Inspection }) {
  const measured = of.characteristics.filter(({ per }) => per === 'item');
  const [times, setTimes] = useState(0);
  const [instruments, setInstruments] = useState<Readonly<Record<string, string>>>({});
  if (measured.length === 0) return null;
  const { inspection } = of;
  const body = (values: FormValues) => {
    const piece = values.whole('/items/0/piece');
    return {
      sample: sampleNow(of),
      items: [
        { ...(piece === undefined ? {} : { piece }), measured: measured.map((one, k) => measurementOf(values, one, k, instruments)) },
      ],
    };
  };
  return (
    <Section title="Measure an item" note={measured.map((one) => progress(of, one)).join('; ')}>
      <div className="columns">
        <div className="sheet">
          <CommandForm
            key={times}
            path="/api/inspections/{inspection}/tallies"
            address={{ inspection }}
            body={body}
            submit="Write this item down"
            keepAs={() => `A measured item of ${inspection}`}
            onDone={() => setTimes(times + 1)}
            onKept={() => setTimes(times + 1)}
          >
            {of.pieces === null ? null : (
              <TextField
                name="/items/0/piece"
                label="Piece"
                inputMode="numeric"
                pattern="[1-9][0-9]*"
                title="a piece number"
                hint="may be left out"
              />
            )}
            {measured.map((one, k) => (
              <fieldset key={one.code} className="form">
                <legend>{one.name}</legend>
                <ReadingsFields of={one} at={`/items/0/measured/${k}/readings`} lines={one.replicates ?? 1} />
                <InstrumentField
                  name={`/items/0/measured/${k}/instrument`}
                  kind={one.instrumentKind}
                  required={one.instrumentRequired}
                  value={instruments[one.code] ?? ''}
                  onValue={(code) => setInstruments({ ...instruments, [one.code]: code })}
                  listen={measured.length === 1}
                />
              </fieldset>
            ))}
          </CommandForm>
        </div>
        <div>
          {measured.map((one) => (
            <SoFar key={one.code} one={one} values={valuesOf(of, one)} />
          ))}
        </div>
      </div>
    </Section>
  );
}

function measurementOf(values: FormValues, one: Characteristic, k: number, instruments: Readonly<Record<string, string>>) {
  const instrument = (instruments[one.code] ?? '').trim();
  return {
    characteristic: one.code,
    readings: readingsOf(values, one, `/items/0/measured/${k}/readings`, one.replicates ?? 1),
    ...(instrument === '' ? {} : { instrument }),
  };
}

const valuesOf = (of: Inspection, { code }: Characteristic): Measured[] =>
  of.tallies
    .filter(({ takenBack }) => takenBack === null)
    .flatMap(({ items }) => items.flatMap(({ measured }) => measured.filter(({ characteristic }) => characteristic === code)));

function progress(of: Inspection, one: Characteristic): string {
  const wanted = one.items ?? of.sample?.first ?? 0;
  return `${one.name}: ${valuesOf(of, one).length} of ${writtenItems(wanted)} measured`;
}

function SoFar({ one, values }: { one: Characteristic; values: readonly Measured[] }) {
  const last = values.at(-1);
  return (
    <div className="so-far">
      <h3>{one.name} so far</h3>
      <p className="quiet">
        {one.rounding}
        {one.procedure === null ? '' : `; procedure ${one.procedure}`}
      </p>
      <LimitsStripPicture
        name={one.name}
        unit={one.unit ?? ''}
        lower={one.lower}
        upper={one.upper}
        target={one.target}
        readings={values.map(({ value }) => value)}
        result={last?.value ?? null}
        within={last?.within ?? null}
      />
      {last === undefined ? null : (
        <p role="status">
          Last: <strong className={last.within ? undefined : 'urgent'}>{`${last.value} ${last.unit}`}</strong>,{' '}
          {last.within ? 'within its limits' : `outside its limits: ${last.fault ?? ''}`}
        </p>
      )}
    </div>
  );
}
