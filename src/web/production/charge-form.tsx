import { instantOfLocal } from '../app/clock.js';
import { QuantityField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Form } from '../design/form.js';
import { Caution } from '../design/page.js';
import { useCommand } from '../wire/use-command.js';
import { deviationsAhead } from './ahead.js';
import type { ChargeDrafting } from './charge-draft.js';
import { ChargeMore } from './charge-more.js';
import { nextUnits } from './fitting-list.js';
import { LotLine } from './lot-line.js';
import { amountOf, type Lot, makesPieces, type Run } from './run.js';
import { microIn, onHand, piecesIn, proposed, proposedFromPiece } from './take-from.js';
import { useDoing } from './use-doing.js';
import { usePlantClock } from './use-plant-clock.js';
import { useItemOf } from './use-item.js';
import { leftMicro, wantOf } from './wants.js';
import { MICRO } from '../../../shared/quantity.js';

const AT = '/charges/0';

/** One lot, what is known of it, how much of it goes in, and one button that says what it will do. */
export function ChargeForm({
  run,
  lot,
  piece,
  drafting,
  onDone,
}: {
  run: Run;
  lot: Lot;
  piece: number | null;
  drafting: ChargeDrafting;
  onDone: (words: string) => void;
}) {
  const doing = useDoing();
  const { draft, type } = drafting;
  const want = wantOf(run, lot.item);
  const suggestion = proposed(lot, want, piece);
  const numbered = lot.pieces !== null;
  const field = (name: string, otherwise: string): string => draft.fields[name] ?? otherwise;
  const quantity = field('quantity', suggestion.quantity);
  const pieces = field('pieces', suggestion.pieces);
  const quantityMicro = numbered ? (piecesIn(pieces) ?? 0) * MICRO : (microIn(quantity) ?? 0);
  const tracking = useItemOf(run.item)?.tracking;
  const howMuch = amountOf(quantityMicro, lot.unit);
  const command = useCommand('/api/runs/{run}/charges', {
    address: { run: run.run },
    keepAs: () => `${howMuch} of ${lot.lot} into ${run.run}`,
  });
  const ahead = deviationsAhead(run, { item: lot.item, want, quantityMicro, nowMs: usePlantClock(5000) });
  const asksWhy = ahead.length > 0 || command.problem?.reasons.some(({ pointer }) => pointer === `${AT}/deviationReason`) === true;

  async function send(values: FormValues): Promise<void> {
    const charge = {
      lot: lot.lot,
      ...(numbered ? { pieces: values.text(`${AT}/pieces`) } : { quantity: values.text(`${AT}/quantity`) }),
      unit: values.maybe(`${AT}/unit`) as 'kg' | undefined,
      step: values.whole(`${AT}/step`),
      chargedAt: instantOfLocal(values.text(`${AT}/chargedAt`)) || doing.at(),
      from: values.maybe(`${AT}/from`),
      fromPiece: values.whole(`${AT}/fromPiece`),
      intoPieces: values.maybe(`${AT}/intoPieces`),
      map: values.maybe(`${AT}/intoPieces`) !== undefined && (want?.bySerial || values.on(`${AT}/map`)) ? ('each' as const) : undefined,
      mass: values.maybe(`${AT}/mass`),
      deviationReason: values.maybe(`${AT}/deviationReason`),
    };
    const outcome = await command.run({ charges: [charge] });
    if ('problem' in outcome) return;
    doing.over();
    onDone(
      'done' in outcome
        ? `Charged ${howMuch} of ${lot.lot} (${lot.itemName}).`
        : `${howMuch} of ${lot.lot} is kept on this device and sent when the server is back.`,
    );
  }
  return (
    <div className="sheet charge-sheet">
      <LotLine lot={lot} />
      <Form problem={command.problem} onSubmit={(values) => void send(values)} label={`Charge ${lot.lot}`}>
        {want === null ? null : (
          <p>
            {want.step === null ? `${run.bom} wants` : `Step ${want.step} wants`}{' '}
            <strong>{want.targetMicro === null ? 'some' : amountOf(leftMicro(want), want.unit)}</strong> more.
          </p>
        )}
        {numbered ? (
          <TextField
            name={`${AT}/pieces`}
            label="Pieces"
            hint={`${howMuch}; on hand are ${amountOf(onHand(lot).micro, lot.unit)}`}
            value={pieces}
            onChange={(event) => type('pieces', event.target.value)}
            required
            code
          />
        ) : (
          <QuantityField
            name={`${AT}/quantity`}
            label="Quantity"
            unit={lot.unit === 'each' ? 'pieces' : lot.unit}
            value={quantity}
            onChange={(event) => type('quantity', event.target.value)}
            hint={`on hand are ${amountOf(onHand(lot).micro, lot.unit)}`}
            className="large"
            required
          />
        )}
        {want?.bySerial ? (
          <TextField
            name={`${AT}/intoPieces`}
            label="Into units"
            hint="One each, in this order."
            value={field('intoPieces', nextUnits(run, lot.item, quantityMicro / MICRO))}
            onChange={(event) => type('intoPieces', event.target.value)}
            required
            code
          />
        ) : makesPieces(run, tracking) && run.kind !== 'rework' ? (
          <TextField
            name={`${AT}/fromPiece`}
            label="In use from piece"
            inputMode="numeric"
            pattern="[1-9][0-9]*"
            title="a whole number from 1"
            value={field('fromPiece', numbered ? '' : proposedFromPiece(run, lot.item))}
            onChange={(event) => type('fromPiece', event.target.value)}
            hint="Piece of the lot being made from which this lot is in. Empty: set it on the ribbon later."
          />
        ) : null}
        {ahead.length === 0 ? null : (
          <Caution>
            <p>This is otherwise than {run.recipe ?? run.bom} says:</p>
            <ul>
              {ahead.map((deviation) => (
                <li key={deviation}>{deviation}</li>
              ))}
            </ul>
          </Caution>
        )}
        {asksWhy ? (
          <TextAreaField
            name={`${AT}/deviationReason`}
            label="Why it is done all the same"
            hint="With a reason it is charged and the deviation stands in the record. Without one it is refused."
            value={field('deviationReason', '')}
            onChange={(event) => type('deviationReason', event.target.value)}
            rows={2}
          />
        ) : null}
        <ChargeMore at={AT} run={run} lot={lot} field={field} type={type} pieces={makesPieces(run, tracking) && !want?.bySerial} />
        <div className="row">
          <button type="submit" className="primary big" disabled={command.busy}>
            {command.busy ? 'Sending …' : `Charge ${howMuch} of ${lot.lot}`}
          </button>
          <button type="button" onClick={() => drafting.ask(null)}>
            Not this one
          </button>
        </div>
      </Form>
    </div>
  );
}
