import { Link } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField } from '../design/fields.js';
import { amount, type Run } from './run.js';
import { useDoing } from './use-doing.js';

/** What the vessel still holds goes into the batch whatever one does: it is charged first, or taken out first. */
export function HeelPanel({ run }: { run: Run }) {
  const doing = useDoing();
  const held = run.heel.map(({ quantity, unit, lot }) => `${amount(quantity, unit)} of ${lot}`).join(' and ');
  const other = run.heel.some(({ item }) => item !== run.item);
  return (
    <div className="sheet charge-sheet">
      <h3>
        {run.vessel} still holds {held}
      </h3>
      <p>
        What is left in a vessel goes into whatever is mixed next. Charge it as heel, so that a trace finds it, or empty the vessel first.
      </p>
      <CommandForm
        path="/api/runs/{run}/heel"
        address={{ run: run.run }}
        submit={`Charge ${held} as heel`}
        keepAs={() => `Heel of ${run.vessel} into ${run.run}`}
        body={(values) => ({ chargedAt: doing.at(), deviationReason: values.maybe('/deviationReason') })}
        onDone={() => doing.over()}
        onKept={() => doing.over()}
      >
        <TextAreaField
          name="/deviationReason"
          label={
            other
              ? `Why ${run.heel.map(({ item }) => item).join(', ')} goes into ${run.item}`
              : 'Reason, if something about it is otherwise than it should be'
          }
          required={other}
          rows={2}
        />
      </CommandForm>
      <p className="instead">
        <Link className="button" href={`/production/vessels/${encodeURIComponent(run.vessel ?? '')}#emptied`}>
          Empty {run.vessel} instead …
        </Link>
      </p>
    </div>
  );
}
