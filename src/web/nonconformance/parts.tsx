import { useState } from 'react';
import { countPieces, parseSpans, type SpanSet } from '../../../shared/spans.js';
import { writtenPieces } from '../../../shared/written.js';
import { CodeField } from '../design/code-field.js';
import { QuantityField, TextField } from '../design/fields.js';
import { useFaultLine } from './fault-line.js';
import { Stamps } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { amount } from './amounts.js';
import { PiecesDialog } from './pieces-dialog.js';
import { nextId, type PartDraft } from './raise-draft.js';

type Lot = View<'LotView'>;

/** What is affected, a line a lot. Pieces are typed as `5-17,40` or taken from the lot's ribbon; a bulk lot has a quantity. */
export function Parts({
  parts,
  onParts,
  given,
}: {
  parts: readonly PartDraft[];
  onParts: (parts: readonly PartDraft[]) => void;
  given: boolean;
}) {
  const fault = useFaultLine('/parts');
  const change = (id: number, next: Partial<PartDraft>): void => onParts(parts.map((one) => (one.id === id ? { ...one, ...next } : one)));
  return (
    <fieldset id={fault.id} tabIndex={-1}>
      <legend className="hidden-but-read">Affected lots</legend>
      {parts.length === 0 && given ? <p className="quiet">Left empty: as it is given above.</p> : null}
      {parts.map((part, i) => (
        <PartLine
          key={part.id}
          part={part}
          i={i}
          onChange={(next) => change(part.id, next)}
          onDrop={() => onParts(parts.filter((one) => one.id !== part.id))}
        />
      ))}
      {fault.says}
      <button type="button" onClick={() => onParts([...parts, { id: nextId(parts), lot: '', pieces: '', quantity: '' }])}>
        Add a lot
      </button>
    </fieldset>
  );
}

/** Lots whose code, item or supplier's lot has what is typed. */
function useLots(typed: string): { code: string; says: string }[] {
  const text = typed.trim();
  const { data } = server.useQuery(
    'get',
    '/api/lots',
    { params: { query: text === '' ? { limit: 30 } : { query: text, limit: 30 } } },
    { staleTime: 10_000, placeholderData: (before) => before },
  );
  return (data?.lots ?? []).map(({ lot, item, supplierLot, onHand, unit }) => ({
    code: lot,
    says: `${item}${supplierLot === null ? '' : `, supplier’s ${supplierLot}`}, ${amount(onHand, unit)} here`,
  }));
}

function PartLine({
  part,
  i,
  onChange,
  onDrop,
}: {
  part: PartDraft;
  i: number;
  onChange: (next: Partial<PartDraft>) => void;
  onDrop: () => void;
}) {
  const lot = part.lot.trim();
  const choices = useLots(part.lot);
  const { data } = server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot } } }, { enabled: lot !== '', staleTime: 10_000 });
  const [choosing, setChoosing] = useState(false);
  const known = data?.lot === lot ? data : null;
  const bulk = known !== null && known.pieces === null;
  return (
    <div className="nc-line">
      <CodeField
        name={`/parts/${i}/lot`}
        label={`Lot ${i + 1}`}
        choices={choices}
        value={part.lot}
        onValue={(text) => onChange({ lot: text, pieces: '', quantity: '' })}
        required
      />
      {bulk ? (
        <QuantityField
          name={`/parts/${i}/quantity`}
          label="How much"
          unit={known.unit}
          hint="Left empty: all that is here or with customers"
          value={part.quantity}
          onChange={(event) => onChange({ quantity: event.target.value })}
        />
      ) : (
        <TextField
          name={`/parts/${i}/pieces`}
          label="Pieces"
          code
          hint={piecesHint(part.pieces, known)}
          value={part.pieces}
          onChange={(event) => onChange({ pieces: event.target.value })}
        />
      )}
      <div className="row">
        {known === null || bulk ? null : (
          <button type="button" onClick={() => setChoosing(true)}>
            On the ribbon<span className="hidden-but-read"> of {lot}</span>
          </button>
        )}
        <button type="button" onClick={onDrop}>
          Take out<span className="hidden-but-read"> lot {i + 1}</span>
        </button>
      </div>
      {known === null ? null : <About lot={known} />}
      {choosing && known !== null ? (
        <PiecesDialog
          lot={known.lot}
          spans={readSpans(part.pieces) ?? []}
          onPieces={(pieces) => onChange({ pieces })}
          onClose={() => setChoosing(false)}
        />
      ) : null}
    </div>
  );
}

const About = ({ lot }: { lot: Lot }) => (
  <p className="nc-about">
    {lot.itemName}, {amount(lot.quantity, lot.unit)} <Stamps stamps={lot.stamps} unit={lot.unit} small />
  </p>
);

export const readSpans = (text: string): SpanSet | null => {
  try {
    return text.trim() === '' ? [] : parseSpans(text.trim());
  } catch {
    return null;
  }
};

function piecesHint(typed: string, lot: Lot | null): string {
  const spans = readSpans(typed);
  if (spans === null) return 'As 5-17,40';
  if (spans.length === 0) return lot?.pieces ? `Left empty: all ${writtenPieces(lot.pieces)}` : 'As 5-17,40; left empty: all';
  return writtenPieces(countPieces(spans));
}
