import { MICRO } from '../../../shared/quantity.js';
import { writtenCount } from '../../../shared/written.js';
import { instantOfLocal } from '../app/clock.js';
import { useLocations } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { QuantityField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Caution, Notice, Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import type { BodyOf } from '../wire/use-command.js';
import { closingDeviationsAhead } from './ahead.js';
import { closingFigures, weightsFault, weightsOf } from './closing-figures.js';
import { CloseFitted, fittedBody } from './close-fitted.js';
import { ClosePieces, weightsBody } from './close-pieces.js';
import { pieceNumber } from './piece-number.js';
import { Reconciliation } from './reconciliation.js';
import { amountOf, type Run } from './run.js';
import { microIn, piecesIn } from './take-from.js';
import { usePlantClock } from './use-plant-clock.js';
import { useDoing } from './use-doing.js';
import { type Typed, useTyped } from './use-typed.js';

type Body = BodyOf<'/api/runs/{run}/close'>;

/** Everything a closing asks for, with the reconciliation kept up while it is typed. */
export function CloseForm({ run, item, onDone }: { run: Run; item: View<'ItemView'>; onDone: () => void }) {
  const typed = useTyped(`close ${run.run}`);
  const doing = useDoing();
  const locations = useLocations();
  const bulk = item.tracking === 'bulk';
  const empty = run.charges.every(({ quantity }) => quantity === '0');
  const pieces = pieceNumber(typed.text('/pieces'));
  const quantityMicro = bulk ? (microIn(typed.text('/quantity')) ?? 0) : pieces * MICRO;
  const rejected = piecesIn(typed.text('/rejected')) ?? 0;
  const meanMicro = weightsOf(typed.text('weights'))?.meanMicro ?? microIn(typed.text('/netWeights/mean'));
  const out = { quantityMicro, rejected, meanMicro };
  const limits = useLimits(run);
  const howMuch = amountOf(quantityMicro, run.unit);

  function body(values: FormValues): Body {
    const rest = { finishedAt: instantOfLocal(values.text('/finishedAt')) || doing.at(), note: values.maybe('/note') };
    if (empty) return rest;
    return {
      ...rest,
      ...(bulk ? { quantity: values.maybe('/quantity') } : { pieces: values.whole('/pieces') }),
      lot: values.maybe('/lot'),
      location: values.maybe('/location'),
      serials: values.codes('/serials').length > 0 ? values.codes('/serials') : undefined,
      rejected: values.maybe('/rejected'),
      rejectReason: values.maybe('/rejectReason'),
      netWeights: weightsBody(values),
      fitted: fittedBody(run, values),
      deviationReason: values.maybe('/deviationReason'),
    };
  }
  function over(): void {
    doing.over();
    typed.clear();
    onDone();
  }
  return (
    <CommandForm
      path="/api/runs/{run}/close"
      address={{ run: run.run }}
      submit={empty ? `Close ${run.run} with nothing` : `Close ${run.run} with ${quantityMicro === 0 ? '…' : howMuch}`}
      keepAs={() => `Closing of ${run.run} with ${howMuch}`}
      body={body}
      check={(values) => {
        const detail = weightsFault(values.text('weights'));
        return detail === null ? [] : [{ code: 'not-filled-in', detail, pointer: 'weights' }];
      }}
      onDone={over}
      onKept={over}
      onCancel={onDone}
    >
      {empty ? (
        <Notice>
          <p>
            Nothing is charged to {run.run}
            {run.replacements.length > 0 ? '; the parts that were replaced stand on their own' : ''}: it is closed without a lot.
          </p>
        </Notice>
      ) : (
        <>
          <div className="grid">
            {bulk ? (
              <QuantityField
                label="What came out"
                unit={run.unit === 'each' ? 'pieces' : run.unit}
                className="large"
                required
                {...typed.wired('/quantity')}
              />
            ) : (
              <TextField
                label="Pieces that came out, rejected ones included"
                inputMode="numeric"
                pattern="[1-9][0-9]*"
                title="a whole number from 1"
                className="large"
                required
                {...typed.wired('/pieces')}
              />
            )}
            <CodeField
              name="/location"
              label="Where it is"
              choices={locations}
              hint={run.vessel === null ? undefined : `Empty: in ${run.vessel}.`}
              value={typed.text('/location')}
              onValue={(text) => typed.set('/location', text)}
              required={run.vessel === null}
            />
          </div>
          {bulk ? null : <ClosePieces run={run} item={item} pieces={pieces} typed={typed} />}
          <CloseFitted run={run} typed={typed} />
        </>
      )}
      <details className="more">
        <summary>Another time, a lot code of your own, a note</summary>
        <div className="grid">
          <TextField label="When it was finished" type="datetime-local" hint="Empty: now." {...typed.wired('/finishedAt')} />
          {empty ? null : <TextField label="Code of the lot" code hint="Empty: the next number." {...typed.wired('/lot')} />}
        </div>
        <TextAreaField label="Note" rows={2} {...typed.wired('/note')} />
      </details>
      {empty ? null : (
        <Section title="Before it is closed" note="what went in against what comes out">
          <Reconciliation run={run} figures={closingFigures(run, item, out)} out={out} limits={limits} />
          <Otherwise run={run} typed={typed} />
          <WillDo run={run} howMuch={howMuch} rejected={rejected} location={typed.text('/location')} ready={quantityMicro > 0} />
        </Section>
      )}
    </CommandForm>
  );
}

/** Steps that are short or have not mixed: closing takes a reason then, and the deviation stands in the record. */
function Otherwise({ run, typed }: { run: Run; typed: Typed }) {
  const deviations = closingDeviationsAhead(run, usePlantClock(5000));
  if (run.steps.length === 0) return null;
  return (
    <>
      {deviations.length === 0 ? null : (
        <Caution>
          <p>This is otherwise than {run.recipe} says:</p>
          <ul>
            {deviations.map((deviation) => (
              <li key={deviation}>{deviation}</li>
            ))}
          </ul>
        </Caution>
      )}
      <TextAreaField
        label={deviations.length === 0 ? 'Reason, should a step not have had its quantity or its time' : 'Why it is closed all the same'}
        hint="With a reason the deviation is recorded; without one the closing is refused."
        rows={2}
        {...typed.wired('/deviationReason')}
      />
    </>
  );
}

/** What pressing the button does, and to how much. */
function WillDo({
  run,
  howMuch,
  rejected,
  location,
  ready,
}: {
  run: Run;
  howMuch: string;
  rejected: number;
  location: string;
  ready: boolean;
}) {
  if (!ready) return <p className="quiet">Say what came out, and its figures stand here.</p>;
  return (
    <Notice>
      <p>
        Closing makes one lot of <strong>{howMuch}</strong> of {run.item} at {location.trim() || run.vessel || '…'}. It stands in quarantine
        until quality releases it.
        {rejected > 0 ? ` ${writtenCount(rejected)} rejected of it are scrapped at once.` : ''} After that, the record of {run.run} changes
        only by a correction.
      </p>
    </Notice>
  );
}

/** Within what the yield has to be, by the revision of the recipe the run follows. */
function useLimits(run: Run): { low: number; high: number } | null {
  const { data } = server.useQuery(
    'get',
    '/api/recipes/{recipe}/history',
    { params: { path: { recipe: run.recipe ?? '' } } },
    { enabled: run.recipe !== null, staleTime: 60_000 },
  );
  const record = data?.find(({ revision }) => revision === run.recipeRevision)?.record;
  return record ? { low: record.yieldLowBp, high: record.yieldHighBp } : null;
}
