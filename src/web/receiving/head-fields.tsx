import { CodeField } from '../design/code-field.js';
import { TextAreaField, TextField } from '../design/fields.js';
import type { Draft } from './draft.js';
import type { Catalogue } from './proposal.js';

/** Papers that come with goods, as the trade calls them; any other name can be typed. */
const PAPERS = ['delivery note', 'bill of lading', 'packing list', 'waybill', 'invoice'].map((code) => ({ code, says: '' }));
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
  const named = (list: readonly { code: string; name: string }[]) => list.map(({ code, name }) => ({ code, says: name }));
  return (
    <div className="form">
      <div className="grid">
        <CodeField
          name="/supplier"
          label="Supplier"
          required
          choices={named(catalogue.suppliers)}
          value={draft.supplier}
          onValue={(supplier) => onChange({ supplier })}
        />
        <CodeField
          name="/documentType"
          label="Paper"
          required
          choices={PAPERS}
          value={draft.documentType}
          onValue={(documentType) => onChange({ documentType })}
        />
        <TextField
          name="/document"
          label="Its number"
          code
          required
          value={draft.document}
          onChange={(event) => onChange({ document: event.target.value })}
        />
        <CodeField
          name="/location"
          label="Put at"
          required
          choices={named(catalogue.locations)}
          value={draft.location}
          onValue={(location) => onChange({ location })}
        />
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
