import { useState } from 'react';
import { useSearchParams } from 'wouter';
import { plantInstant } from '../app/clock.js';
import { useMay, useMe } from '../app/session.js';
import { CodeField } from '../design/code-field.js';
import { useItems, useParties } from '../design/choices.js';
import { TextField } from '../design/fields.js';
import { Form } from '../design/form.js';
import { Notice, Page, Section } from '../design/page.js';
import { PaperFields } from '../design/paper-fields.js';
import { Refer } from '../design/refer.js';
import { useDraft } from '../outbox/use-draft.js';
import { useScan } from '../scan/scans.js';
import type { View } from '../wire/client.js';
import { type BodyOf, useCommand } from '../wire/use-command.js';
import { DispatchTabs } from './dispatch-tabs.js';
import { EMPTY_GOODS, type GoodsLine, goodsOf } from './goods.js';
import { GoodsFields } from './goods-fields.js';
import { resolveScan } from './resolve-scan.js';
import { ReturnTable } from './return-table.js';
import './dispatch.css';

interface Draft {
  readonly customer: string;
  readonly documentType: string;
  readonly document: string;
  readonly location: string;
  readonly condition: string;
  readonly lines: readonly GoodsLine[];
}
const EMPTY: Draft = { customer: '', documentType: 'return note', document: '', location: '', condition: '', lines: [] };
const PAPERS = ['return note', 'complaint', 'waybill'];
const CONDITIONS = ['unopened', 'opened', 'damaged', 'used'].map((code) => ({ code, says: '' }));

function bodyOf(draft: Draft, shipment: string): BodyOf<'/api/returns'> {
  const { lines, ...head } = draft;
  return {
    ...head,
    returnedAt: plantInstant(),
    lines: lines.map((line) => ({ ...goodsOf(line), shipment: (line.shipment || shipment).trim() || undefined })),
  };
}

/** A return that is logged from a shipment's page is another one than what was begun without: it knows its customer. */
const draftOf = (person: string, shipment: string): string =>
  shipment === '' ? `return of ${person}` : `return of ${person} from ${shipment}`;

/** Goods that come back: they stand in quarantine until quality has judged them. */
export function LogReturn() {
  const { person } = useMe();
  const mayLog = useMay('clerk', 'dispatcher', 'administrator');
  const items = useItems();
  const customers = useParties('customer');
  const [asked] = useSearchParams();
  const shipment = asked.get('shipment') ?? '';
  const [draft, setDraft, clearDraft] = useDraft<Draft>(draftOf(person, shipment), { ...EMPTY, customer: asked.get('customer') ?? '' });
  const [said, setSaid] = useState('');
  const [booked, setBooked] = useState<View<'ReturnView'> | 'kept' | null>(null);
  const command = useCommand('/api/returns', {
    keepAs: (body) => `Return ${body.document} from ${body.customer}`,
  });
  const set = (part: Partial<Draft>): void => setDraft((before) => ({ ...before, ...part }));
  const setLine = (at: number, part: Partial<GoodsLine>): void =>
    setDraft((before) => ({ ...before, lines: before.lines.map((one, i) => (i === at ? { ...one, ...part } : one)) }));
  useScan((scan) => {
    if (!mayLog) return false;
    void resolveScan(scan, draft.lines).then(({ does, lines, party, location }) => {
      if (lines) set({ lines });
      if (party !== null) set({ customer: party });
      if (location !== null) set({ location });
      return setSaid(does);
    });
    return true;
  });
  async function book(): Promise<void> {
    const outcome = await command.run(bodyOf(draft, shipment));
    if ('problem' in outcome) return;
    clearDraft();
    setSaid('');
    setBooked('done' in outcome ? outcome.done : 'kept');
  }
  return (
    <Page
      title="Returns"
      crumb="Dispatch"
      sub="What comes back keeps its lot and its number, and stands in quarantine until quality has judged it."
    >
      <DispatchTabs />
      {booked === null ? null : <Booked booked={booked} />}
      <p className="scan-said" role="status">
        {said === '' ? '' : `Scanned: ${said}`}
      </p>
      {mayLog ? (
        <Form label="A return" problem={command.problem} onSubmit={() => void book()}>
          <Section title="From whom">
            <div className="grid">
              <CodeField
                name="/customer"
                label="Customer"
                required
                choices={customers}
                value={draft.customer}
                onValue={(customer) => set({ customer })}
              />
              <PaperFields paper={draft} papers={PAPERS} where="Put at" onChange={set} />
              <CodeField
                name="/condition"
                label="Condition"
                required
                choices={CONDITIONS}
                value={draft.condition}
                onValue={(condition) => set({ condition })}
              />
            </div>
          </Section>
          <Section title="What came back" note="scan a label or a serial, or add a line by hand">
            {draft.lines.map((line, at) => (
              <GoodsFields
                // oxlint-disable-next-line react/no-array-index-key -- a line is its place: it has no other name yet
                key={at}
                at={at}
                line={line}
                items={items}
                location={null}
                onChange={(part) => setLine(at, part)}
                onTakeOut={() => set({ lines: draft.lines.filter((_, i) => i !== at) })}
              >
                <TextField
                  name={`/lines/${at}/shipment`}
                  label="Went out in"
                  code
                  hint="left empty: found from the record"
                  value={line.shipment || shipment}
                  onChange={(event) => setLine(at, { shipment: event.target.value })}
                />
              </GoodsFields>
            ))}
            <button type="button" onClick={() => set({ lines: [...draft.lines, EMPTY_GOODS] })}>
              Add a line by hand
            </button>
          </Section>
          <div className="row">
            <button type="submit" className="primary" disabled={command.busy || draft.lines.length === 0}>
              {command.busy ? 'Booking …' : 'Book the return'}
            </button>
            <button type="button" onClick={clearDraft}>
              Clear the form
            </button>
          </div>
        </Form>
      ) : null}
      <ReturnTable />
    </Page>
  );
}

function Booked({ booked }: { booked: View<'ReturnView'> | 'kept' }) {
  return (
    <Notice>
      {booked === 'kept' ? (
        <p>
          There is no connection. The return is kept on this device and sent once when the server is back; keep the goods apart until then.
        </p>
      ) : (
        <p>
          Booked: <Refer kind="returned" code={booked.returned} />, in quarantine at {booked.location}.
        </p>
      )}
    </Notice>
  );
}
