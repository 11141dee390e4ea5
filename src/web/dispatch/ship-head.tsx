import { CodeField } from '../design/code-field.js';
import { useParties } from '../design/choices.js';
import { TextAreaField } from '../design/fields.js';
import { PaperFields } from '../design/paper-fields.js';

export interface ShipHead {
  readonly customer: string;
  readonly billTo: string;
  readonly documentType: string;
  readonly document: string;
  readonly location: string;
  readonly note: string;
}

export const EMPTY_HEAD: ShipHead = { customer: '', billTo: '', documentType: 'dispatch note', document: '', location: '', note: '' };

const PAPERS = ['dispatch note', 'bill of lading', 'waybill', 'invoice'];

/** Who receives the goods, by which paper, and where they leave from. */
export function ShipHeadFields({ head, onChange }: { head: ShipHead; onChange: (part: Partial<ShipHead>) => void }) {
  const customers = useParties('customer');
  return (
    <div className="form">
      <div className="grid">
        <CodeField
          name="/customer"
          label="Customer"
          required
          choices={customers}
          value={head.customer}
          onValue={(customer) => onChange({ customer })}
        />
        <PaperFields paper={head} papers={PAPERS} where="Leaves from" onChange={onChange} />
        <CodeField
          name="/billTo"
          label="Who pays"
          hint="left empty: the customer"
          choices={customers}
          value={head.billTo}
          onValue={(billTo) => onChange({ billTo })}
        />
      </div>
      <TextAreaField name="/note" label="Remark" rows={2} value={head.note} onChange={(event) => onChange({ note: event.target.value })} />
    </div>
  );
}
