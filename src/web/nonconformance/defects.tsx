import { CodeField } from '../design/code-field.js';
import { TextField } from '../design/fields.js';
import { server } from '../wire/client.js';
import { type DefectDraft, nextId } from './raise-draft.js';

/** Defects of the plant's own list, with how many were found. */
export function Defects({ defects, onDefects }: { defects: readonly DefectDraft[]; onDefects: (defects: readonly DefectDraft[]) => void }) {
  const { data } = server.useQuery('get', '/api/defects', {}, { staleTime: 60_000 });
  const choices = (data ?? []).map(({ code, name, severity }) => ({ code, says: `${name} (${severity})` }));
  const change = (id: number, next: Partial<DefectDraft>): void =>
    onDefects(defects.map((one) => (one.id === id ? { ...one, ...next } : one)));
  return (
    <fieldset>
      <legend>Defects</legend>
      {defects.map(({ id, defect, count }, i) => (
        <div className="nc-line" key={id}>
          <CodeField
            name={`/defects/${i}/defect`}
            label={`Defect ${i + 1}`}
            choices={choices}
            value={defect}
            onValue={(text) => change(id, { defect: text })}
            required
          />
          <TextField
            name={`/defects/${i}/count`}
            label="How many"
            hint="Left empty: one"
            inputMode="numeric"
            pattern="[0-9]+"
            title="a whole number"
            value={count}
            onChange={(event) => change(id, { count: event.target.value })}
          />
          <button type="button" onClick={() => onDefects(defects.filter((one) => one.id !== id))}>
            Take out<span className="hidden-but-read"> defect {i + 1}</span>
          </button>
        </div>
      ))}
      <button type="button" onClick={() => onDefects([...defects, { id: nextId(defects), defect: '', count: '' }])}>
        Add a defect
      </button>
    </fieldset>
  );
}
