import { CodeField } from '../design/code-field.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { PaperFields } from '../design/paper-fields.js';
import type { Draft } from './draft.js';
import type { Catalogue } from './proposal.js';

/** Papers that come with goods, as the trade calls them; any other name can be typed. */
const PAPERS = ['delivery note', 'bill of lading', 'packing list', 'waybill', 'invoice'];
const CONDITIONS = ['sound', 'packaging damaged, goods sound', 'damaged', 'wet', 'seal broken'].map((code) => ({ code, says: '' }));

/** What the paper says, and where and in what condition the goods are. */
export function HeadFields({
  draft,
  catalogue,
  onChange,
}: {
  draft: Draft;
  catalogue: Catalogue;
  onChange: (part: Partial<Draft>) => void;
}) {
  return (
    <div className="form">
      <div className="grid">
        <CodeField
          name="/supplier"
          label="Supplier"
          required
          choices={catalogue.suppliers.map(({ code, name }) => ({ code, says: name }))}
          value={draft.supplier}
          onValue={(supplier) => onChange({ supplier })}
        />
        <PaperFields paper={draft} papers={PAPERS} where="Put at" onChange={onChange} />
        <CodeField
          name="/condition"
          label="Condition on arrival"
          required
          choices={CONDITIONS}
          value={draft.condition}
          onValue={(condition) => onChange({ condition })}
        />
        <TextField
          name="/receivedAt"
          label="Arrived"
          type="datetime-local"
          hint="left empty: now"
          value={draft.receivedAt}
          onChange={(event) => onChange({ receivedAt: event.target.value })}
        />
      </div>
      <TextAreaField name="/note" label="Remark" rows={2} value={draft.note} onChange={(event) => onChange({ note: event.target.value })} />
    </div>
  );
}
