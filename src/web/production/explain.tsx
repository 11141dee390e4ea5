import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField } from '../design/fields.js';
import { Caution, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { Run } from './run.js';

/** Figures of the closing that need a reason, and the reasons given. @see docs/rules/production.md P-34 */
export function Explain({ run }: { run: Run }) {
  const mayExplain = useMay('operator', 'quality', 'administrator');
  return (
    <Section title={run.toExplain ? 'To explain' : 'Explained'} note="a yield outside its limits stays open until somebody says why">
      {run.investigations.map(({ what, detail, explanation, explainedBy, explainedSeq }) =>
        explanation === null ? (
          <div key={what}>
            <Caution>
              <p>{detail}.</p>
            </Caution>
            {mayExplain ? (
              <CommandForm
                path="/api/runs/{run}/explanations"
                address={{ run: run.run }}
                submit="Record the explanation"
                keepAs={() => `Explanation of the ${what} of ${run.run}`}
                body={(values) => ({ what: what as 'yield' | 'mass', explanation: values.text('/explanation') })}
                onDone={() => undefined}
              >
                <TextAreaField name="/explanation" label="What was found, and why it is so" required rows={3} />
              </CommandForm>
            ) : null}
          </div>
        ) : (
          <p key={what}>
            {detail}: <q>{explanation}</q>{' '}
            <span className="quiet">
              ({explainedBy}, entry <Refer kind="entry" code={`${explainedSeq}`} />)
            </span>
          </p>
        ),
      )}
    </Section>
  );
}
