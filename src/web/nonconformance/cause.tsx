import { useState } from 'react';
import { localWritten } from '../app/clock.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { useFaults } from '../design/form.js';
import type { View } from '../wire/client.js';
import type { Learning, Report } from './report-parts.js';
import { asTitle } from './words.js';

type Category = View<'AnalyseCauseDto'>['categories'][number];
const CATEGORIES: readonly Category[] = [
  'material',
  'method',
  'machine',
  'measurement',
  'people',
  'environment',
  'design',
  'supplier',
  'unknown',
];

/** The analysis of the cause, why by why; the last one counts. */
export function Cause({ report, learning, writes }: { report: Report; learning: Learning; writes: boolean }) {
  const { cause } = learning;
  const [anew, setAnew] = useState(false);
  const open = writes && report.review !== null && (anew || (cause === null && learning.asked));
  return (
    <>
      <h3>Cause</h3>
      {cause === null ? (
        <p className="quiet">No cause is recorded.</p>
      ) : (
        <div>
          <ol className="nc-whys">
            {cause.whys.map((why, at) => (
              // An analysis never changes, and two answers may read alike.
              // oxlint-disable-next-line react/no-array-index-key
              <li key={at}>{why}</li>
            ))}
          </ol>
          <p>
            <strong>{cause.conclusion}</strong> ({cause.categories.join(', ')}){' '}
            <span className="quiet">
              {localWritten(cause.at)}, <code>{cause.by}</code>
            </span>
          </p>
        </div>
      )}
      {open ? (
        <CauseForm report={report} onDone={() => setAnew(false)} />
      ) : writes && report.review !== null ? (
        <div className="row no-print">
          <button type="button" onClick={() => setAnew(true)}>
            {cause === null ? 'Record the cause all the same' : 'Analyse the cause again'}
          </button>
        </div>
      ) : null}
    </>
  );
}

const MOST_WHYS = 10;

function CauseForm({ report, onDone }: { report: Report; onDone: () => void }) {
  const [whys, setWhys] = useState(3);
  return (
    <div className="nc-due-form">
      <CommandForm
        path="/api/reports/{report}/cause"
        address={{ report: report.report }}
        body={(values) => ({
          whys: Array.from({ length: whys }, (_, i) => values.text(`/whys/${i}`)).filter((why) => why !== ''),
          categories: values.all<Category>('/categories'),
          conclusion: values.text('/conclusion'),
        })}
        check={(values) =>
          values.all('/categories').length > 0
            ? []
            : [{ code: 'not-filled-in', detail: 'Kind of cause is missing: tick at least one', pointer: '/categories' }]
        }
        submit="Record the cause"
        onDone={onDone}
      >
        {Array.from({ length: whys }, (_, i) => (
          <TextField
            key={i}
            name={`/whys/${i}`}
            label={i === 0 ? 'Why did it happen?' : `And why was that so? (${i + 1})`}
            required={i === 0}
          />
        ))}
        {whys === MOST_WHYS ? null : (
          <div className="row">
            <button type="button" onClick={() => setWhys(whys + 1)}>
              Ask why once more
            </button>
            <span className="quiet">Lines left empty are left out.</span>
          </div>
        )}
        <Categories />
        <TextAreaField name="/conclusion" label="So the cause is" rows={2} required />
      </CommandForm>
    </div>
  );
}

function Categories() {
  const { id, faults } = useFaults('/categories');
  return (
    <fieldset id={id} tabIndex={-1}>
      <legend>Kind of cause</legend>
      <div className="nc-ticks">
        {CATEGORIES.map((one) => (
          <label className="check" key={one}>
            <input type="checkbox" name="/categories" value={one} /> {asTitle(one)}
          </label>
        ))}
      </div>
      {faults.length === 0 ? null : (
        <div className="field">
          <span className="fault">{faults.map(({ detail }) => detail).join('; ')}</span>
        </div>
      )}
    </fieldset>
  );
}
