import { writtenDate, writtenDecimal } from '../../../shared/written.js';
import { useState } from 'react';
import { CodeField, type Choice } from '../design/code-field.js';
import { QuantityField } from '../design/fields.js';
import { given } from '../design/form-values.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Refused } from '../design/refused.js';
import { api, type View } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { EMPTY_GOODS, type GoodsLine } from './goods.js';

type Advice = View<'PickView'>;

const lineOf = ({ lot, pieces, quantity }: Advice['proposed'][number]): GoodsLine => ({
  ...EMPTY_GOODS,
  way: pieces === null ? 'quantity' : 'pieces',
  lot,
  pieces: pieces ?? '',
  quantity: pieces === null ? quantity : '',
});

/** What to take so that the oldest goes first, and what lies there and may not go, with the reason for each. */
export function PickAdvice({
  items,
  location,
  onTake,
}: {
  items: readonly Choice[];
  location: string;
  onTake: (lines: GoodsLine[]) => void;
}) {
  const [item, setItem] = useState('');
  const [quantity, setQuantity] = useState('');
  const [advice, setAdvice] = useState<Advice | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  /** What was advised was advised for something else. */
  function change(set: (text: string) => void): (text: string) => void {
    return (text) => {
      set(text);
      setAdvice(null);
      setProblem(null);
    };
  }
  async function ask(): Promise<void> {
    setProblem(null);
    const query = { quantity, location: given(location) };
    try {
      const { data, error } = await api.GET('/api/items/{item}/pick', { params: { path: { item: item.trim() }, query } });
      setAdvice(data ?? null);
      if (error) setProblem(problemOf(error));
    } catch (error) {
      setProblem(problemOf(error));
    }
  }
  function take(): void {
    if (advice) onTake(advice.proposed.map(lineOf));
    setAdvice(null);
    setItem('');
    setQuantity('');
  }
  return (
    <Section title="What to pick" note="what expires first goes first">
      <div className="row end pick-ask">
        <CodeField name="/pick/item" label="Item wanted" choices={items} value={item} onValue={change(setItem)} />
        <QuantityField
          name="/pick/quantity"
          label="How much"
          value={quantity}
          onChange={(event) => change(setQuantity)(event.target.value)}
        />
        <button type="button" disabled={item.trim() === '' || quantity.trim() === ''} onClick={() => void ask()}>
          Advise
        </button>
      </div>
      {problem === null ? null : <Refused problem={problem} />}
      {advice === null ? null : (
        <>
          <LedgerTable
            caption="Advised to be picked"
            rows={advice.proposed}
            rowKey={({ lot, at, pieces }) => `${lot} ${at} ${pieces}`}
            columns={[
              { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
              { head: 'At', cell: ({ at }) => <code>{at}</code> },
              { head: 'Take', cell: (line) => line.pieces ?? writtenDecimal(line.quantity, line.unit) },
              { head: 'Quantity', num: true, cell: (line) => writtenDecimal(line.quantity, line.unit) },
              { head: 'Expires', cell: ({ expiresOn }) => (expiresOn === null ? '' : writtenDate(expiresOn)) },
            ]}
            empty={<p>Nothing of it may go.</p>}
          />
          {Number(advice.short) > 0 ? (
            <p className="urgent">
              {writtenDecimal(advice.short)} short of {writtenDecimal(advice.wanted)}
            </p>
          ) : null}
          <Skipped skipped={advice.skipped} />
          <button type="button" className="primary" disabled={advice.proposed.length === 0} onClick={take}>
            {advice.proposed.length === 1 ? 'Take this line' : `Take these ${advice.proposed.length} lines`}
          </button>
        </>
      )}
    </Section>
  );
}

/** Older stock that the advice passes over, and why. */
function Skipped({ skipped }: { skipped: Advice['skipped'] }) {
  if (skipped.length === 0) return null;
  return (
    <details>
      <summary className="tap">Left standing: {skipped.length}, with the reason for each</summary>
      <ul>
        {skipped.map((one) => (
          <li key={`${one.lot} ${one.pieces} ${one.code}`}>
            <Refer kind="lot" code={one.lot} /> {one.pieces ?? one.quantity}: {one.detail}
          </li>
        ))}
      </ul>
    </details>
  );
}
