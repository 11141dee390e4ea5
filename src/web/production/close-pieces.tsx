import { useMemo, useState } from 'react';
import { formatQuantity } from '../../../shared/quantity.js';
import { formatSpans, parseSpans, type SpanSet, unionSpans } from '../../../shared/spans.js';
import { writtenQuantity } from '../../../shared/written.js';
import { QuantityField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import type { View } from '../wire/client.js';
import { Ribbon } from '../pictures/ribbon.js';
import { weightsOf } from './closing-figures.js';
import { ribbonOfRun } from './ribbon-of-run.js';
import type { Run } from './run.js';
import type { Typed } from './use-typed.js';

const spansIn = (text: string): SpanSet => {
  try {
    return parseSpans(text);
  } catch {
    return [];
  }
};

/** Of pieces: which were rejected, what they weigh, what serials they carry. */
export function ClosePieces({ run, item, pieces, typed }: { run: Run; item: View<'ItemView'>; pieces: number; typed: Typed }) {
  const [selection, setSelection] = useState<SpanSet>([]);
  const rejectedText = typed.text('/rejected');
  const input = useMemo(() => ribbonOfRun(run, [], spansIn(rejectedText), pieces), [run, rejectedText, pieces]);
  const rejects = typed.text('/rejected') !== '';
  return (
    <>
      {pieces > 0 ? (
        <div>
          <Ribbon input={input} label={`what comes out of ${run.run}`} selection={selection} onSelect={setSelection} />
          {selection.length === 0 ? null : (
            <button
              type="button"
              onClick={() => {
                typed.set('/rejected', formatSpans(unionSpans(spansIn(typed.text('/rejected')), selection)));
                setSelection([]);
              }}
            >
              Pieces {formatSpans(selection)} were rejected
            </button>
          )}
        </div>
      ) : null}
      <div className="grid">
        <TextField
          label="Rejected pieces"
          code
          hint="As 5-17,40; they are scrapped at once. Select them on the ribbon, or type them."
          {...typed.wired('/rejected')}
        />
        {rejects ? <TextField label="Why they were rejected" required {...typed.wired('/rejectReason')} /> : null}
      </div>
      {item.class === 'filled' ? <NetWeights typed={typed} /> : null}
      {item.tracking === 'serial' ? (
        <TextAreaField
          label="Serials, from piece 1 on"
          hint={
            item.serialPattern === null
              ? 'One for each piece, with blanks or line ends between.'
              : `Empty: they go on by the pattern ${item.serialPattern}.`
          }
          required={item.serialPattern === null}
          rows={2}
          {...typed.wired('/serials')}
        />
      ) : null}
    </>
  );
}

function NetWeights({ typed }: { typed: Typed }) {
  const weights = weightsOf(typed.text('weights'));
  const of = (micro: number | undefined): string => (micro === undefined ? '' : formatQuantity(micro));
  const shown = (name: string, micro: number | undefined) =>
    weights === null ? typed.wired(name) : { name, value: of(micro), readOnly: true, onChange: () => undefined };
  return (
    <fieldset className="form">
      <legend>Net weights found at the scale, if cans were weighed</legend>
      <TextAreaField
        label="The weights, in kg"
        hint="As the scale gave them, with blanks between. Or type what they come to, below."
        rows={2}
        {...typed.wired('weights')}
      />
      {weights === null ? null : (
        <p className="quiet" role="status">
          {weights.count} weighed, {writtenQuantity(weights.meanMicro, 'kg')} on average
        </p>
      )}
      <div className="grid narrow">
        <TextField
          label="Weighed"
          inputMode="numeric"
          {...shown('/netWeights/count', undefined)}
          value={weights === null ? typed.text('/netWeights/count') : `${weights.count}`}
        />
        <QuantityField label="Mean" unit="kg" {...shown('/netWeights/mean', weights?.meanMicro)} />
        <QuantityField label="Standard deviation" unit="kg" {...shown('/netWeights/sd', weights?.sdMicro)} />
        <QuantityField label="Smallest" unit="kg" {...shown('/netWeights/min', weights?.minMicro)} />
        <QuantityField label="Largest" unit="kg" {...shown('/netWeights/max', weights?.maxMicro)} />
      </div>
    </fieldset>
  );
}

/** Net weights as they are sent, or nothing where none were taken. */
export function weightsBody(values: FormValues): { count: number; mean: string; sd: string; min: string; max: string } | undefined {
  const count = values.whole('/netWeights/count');
  if (count === undefined) return undefined;
  const text = (name: string): string => values.text(`/netWeights/${name}`);
  return { count, mean: text('mean'), sd: text('sd'), min: text('min'), max: text('max') };
}
