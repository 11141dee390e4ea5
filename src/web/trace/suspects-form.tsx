import { useState } from 'react';
import { useItems } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { TextAreaField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { Notice } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { api } from '../wire/client.js';
import { type Lists, readFailed, readPopulation, withLines } from './suspects-text.js';

/** What failed, and out of what. Both decide the answer alike. */
export function SuspectsForm({
  lists,
  onLists,
  onAsk,
  from,
}: {
  lists: Lists;
  onLists: (lists: Lists) => void;
  onAsk: () => void;
  /** The report that the lists were begun from. */
  from?: string | undefined;
}) {
  const { failed, population } = lists;
  return (
    <Form
      problem={null}
      label="What failed, and out of what"
      check={() => [...readFailed(failed).faults, ...readPopulation(population).faults]}
      onSubmit={onAsk}
    >
      {from === undefined ? null : (
        <Notice>
          <p>
            Begun from report <Refer kind="report" code={from} />. Before asking, widen the comparison to everything that might have failed
            in the same way and would have been heard of.
          </p>
        </Notice>
      )}
      <div className="suspects-lists">
        <TextAreaField
          name="/failed"
          label="Failed pieces"
          className="code"
          required
          rows={7}
          value={failed}
          onChange={(event) => onLists({ failed: event.target.value, population })}
          hint="Scan serials, or type one a line: a serial (K-02291), pieces of a lot (F26-00045 155-160,300), or all of one (F26-00045 all)"
        />
        <div className="form">
          <TextAreaField
            name="/population"
            label="Compared with: everything that might have failed and would have been heard of"
            className="code"
            required
            rows={7}
            value={population}
            onChange={(event) => onLists({ failed, population: event.target.value })}
            hint="The failed ones included, one a line: a lot (F26-00045) or pieces of it (F26-00045 1-400). What was shipped, where complaints are counted; what was inspected, where rejects are"
          />
          <LotsOfItem onLots={(lots) => onLists({ failed, population: withLines(population, lots) })} />
        </div>
      </div>
      <div className="row">
        <button type="submit" className="primary">
          Rank the suspects
        </button>
      </div>
    </Form>
  );
}

/** Adds all numbered lots of an item to what is compared with. */
function LotsOfItem({ onLots }: { onLots: (lots: string[]) => void }) {
  const items = useItems();
  const [item, setItem] = useState('');
  const [said, setSaid] = useState('');
  async function add(): Promise<void> {
    const { data } = await api.GET('/api/lots', { params: { query: { item: item.trim(), limit: 500 } } });
    const numbered = (data?.lots ?? []).filter(({ pieces }) => pieces !== null).map(({ lot }) => lot);
    setSaid(numbered.length === 0 ? `No numbered lot of ${item} is recorded` : `${numbered.length} lots of ${item}`);
    onLots(numbered);
  }
  return (
    <div className="row end">
      <CodeField name="/item" label="All lots of an item" choices={items} value={item} onValue={setItem} />
      <button type="button" disabled={item.trim() === ''} onClick={() => void add()}>
        Add its lots
      </button>
      <span role="status" className="quiet">
        {said}
      </span>
    </div>
  );
}
