import { useState } from 'react';
import { localWritten } from '../app/clock.js';
import { Caution, Section } from '../design/page.js';
import { Thumbs } from '../design/photographs.js';
import { Refer } from '../design/refer.js';
import { LimitsStripPicture } from '../pictures/limits-strip.js';
import type { View } from '../wire/client.js';
import { ResultForm } from './result-form.js';
import './tests.css';

type Inspection = View<'InspectionView'>;
type Characteristic = View<'CharacteristicView'>;
type Result = View<'ResultView'>;

/** Tests of the lot as a whole: each with its limits, every result, and the form for the next. */
export function TestsSection({ of, may }: { of: Inspection; may: boolean }) {
  const tests = of.characteristics.filter(({ per }) => per === 'lot');
  if (tests.length === 0) return null;
  return (
    <Section title="Tests of the lot" note="measured, computed and held against limits; a value on a limit is within it">
      <div className="tests">
        {tests.map((test) => (
          <Test key={test.code} of={of} test={test} may={may} />
        ))}
      </div>
    </Section>
  );
}

const limitsInWords = ({ lower, upper, target, unit }: Characteristic): string =>
  [lower === null ? null : `at least ${lower}`, upper === null ? null : `at most ${upper}`, target === null ? null : `target ${target}`]
    .filter((words) => words !== null)
    .join(', ') + ` ${unit ?? ''}`;

function Test({ of, test, may }: { of: Inspection; test: Characteristic; may: boolean }) {
  const results = of.results.filter(({ characteristic }) => characteristic === test.code);
  const latest = results.find(({ followed }) => !followed);
  const [retesting, setRetesting] = useState(false);
  const open = may && (latest === undefined || retesting);
  return (
    <article className="sheet test" aria-label={test.name}>
      <h3>
        {test.name} <small className="quiet">{test.class}</small>
      </h3>
      <p className="quiet">
        <code>{test.code}</code>, {limitsInWords(test)}; {test.rounding}
        {test.procedure === null ? '' : `; procedure ${test.procedure}`}
        {test.required ? '' : '; not required'}
      </p>
      <LimitsStripPicture
        name={test.name}
        unit={test.unit ?? ''}
        lower={test.lower}
        upper={test.upper}
        target={test.target}
        readings={latest === undefined || test.columns[0] !== 'value' ? [] : latest.inputs.map(({ value }) => value ?? '')}
        result={latest?.value ?? null}
        within={latest?.within ?? null}
      />
      {results.toReversed().map((result) => (
        <Told key={result.result} result={result} />
      ))}
      {latest !== undefined && may && !retesting ? (
        <button type="button" onClick={() => setRetesting(true)}>
          Test again
        </button>
      ) : null}
      {open ? (
        <ResultForm inspection={of.inspection} test={test} retestOf={latest?.result ?? null} onDone={() => setRetesting(false)} />
      ) : null}
    </article>
  );
}

/** One result with everything that its working needs to be checked by hand. */
function Told({ result }: { result: Result }) {
  const { value, unit, within, fault, figures, cautions, instrument, inputs, followed } = result;
  return (
    <div className={followed ? 'told followed' : 'told'}>
      <p>
        <strong className={within ? 'value' : 'value urgent'}>
          {value} {unit}
        </strong>{' '}
        {within ? 'within its limits' : <span className="urgent">outside its limits{fault === null ? '' : `: ${fault}`}</span>}
        {followed ? <span className="quiet">; a retest followed, so it no longer counts</span> : null}
      </p>
      <p className="quiet">
        Result {result.result}, <code>{result.by}</code>, {localWritten(result.measuredAt)}
        {instrument === null ? '' : <>, with {<Refer kind="instrument" code={instrument} />}</>}
        {result.retestOf === null ? '' : `; retest of result ${result.retestOf}: ${result.reason ?? ''}`}; entry{' '}
        <Refer kind="entry" code={`${result.seq}`} />
      </p>
      {within || followed ? null : (
        <Caution>
          <p>Outside its limits means not accepted. Stop using the lot. A retest needs a reason, and both results stay.</p>
        </Caution>
      )}
      <details className="same-table">
        <summary>How it was worked out</summary>
        <p>
          Read:{' '}
          {inputs
            .map((line) =>
              Object.entries<string>(line)
                .map(([name, text]) => `${name} ${text}`)
                .join(', '),
            )
            .join('; ')}
        </p>
        <ul>
          {figures.map(({ name, words, value: figure, unit: of }) => (
            <li key={name}>
              {words}: {figure} {of ?? ''}
            </li>
          ))}
          {cautions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </details>
      <Thumbs files={result.files} of={`result ${result.result}`} />
    </div>
  );
}
