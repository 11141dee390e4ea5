import { useState } from 'react';
import { plantInstant } from '../app/clock.js';
import { useMay, useMe } from '../app/session.js';
import { useItems } from '../design/choices.js';
import { TextField } from '../design/fields.js';
import { given } from '../design/form-values.js';
import { Form } from '../design/form.js';
import { Notice, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { useDraft } from '../outbox/use-draft.js';
import { useScan } from '../scan/scans.js';
import type { View } from '../wire/client.js';
import { type BodyOf, useCommand } from '../wire/use-command.js';
import { DispatchTabs } from './dispatch-tabs.js';
import { EMPTY_GOODS, type GoodsLine, goodsOf } from './goods.js';
import { GoodsFields } from './goods-fields.js';
import { PickAdvice } from './pick-advice.js';
import { resolveScan } from './resolve-scan.js';
import { EMPTY_HEAD, type ShipHead, ShipHeadFields } from './ship-head.js';
import './dispatch.css';

type Body = BodyOf<'/api/shipments'>;
interface Draft {
  readonly head: ShipHead;
  readonly lines: readonly GoodsLine[];
}
const EMPTY: Draft = { head: EMPTY_HEAD, lines: [] };

function bodyOf({ head, lines }: Draft): Body {
  return {
    customer: head.customer.trim(),
    billTo: given(head.billTo),
    documentType: head.documentType.trim(),
    document: head.document.trim(),
    location: head.location.trim(),
    shippedAt: plantInstant(),
    note: given(head.note),
    lines: lines.map((line) => ({ ...goodsOf(line), pickReason: given(line.pickReason) })),
  };
}

/** Pick by scan, check, ship. Every line is judged by the record at that moment; one that may not go stops the shipment, and says why. */
export function Ship() {
  const { person } = useMe();
  const mayShip = useMay('dispatcher', 'administrator');
  const items = useItems();
  const [draft, setDraft, clearDraft] = useDraft<Draft>(`shipment of ${person}`, EMPTY);
  const [said, setSaid] = useState('');
  const [shipped, setShipped] = useState<View<'ShipmentView'> | 'kept' | null>(null);
  const command = useCommand('/api/shipments', {
    keepAs: (body) => `Shipment ${body.document} to ${body.customer}`,
  });
  const setHead = (part: Partial<ShipHead>): void => setDraft((before) => ({ ...before, head: { ...before.head, ...part } }));
  const setLines = (next: (lines: readonly GoodsLine[]) => readonly GoodsLine[]): void =>
    setDraft((before) => ({ ...before, lines: next(before.lines) }));
  useScan((scan) => {
    if (!mayShip) return false;
    void resolveScan(scan, draft.lines).then(({ does, lines, party, location }) => {
      if (lines) setLines(() => lines);
      if (party !== null) setHead({ customer: party });
      if (location !== null) setHead({ location });
      return setSaid(does);
    });
    return true;
  });
  async function ship(): Promise<void> {
    const outcome = await command.run(bodyOf(draft));
    if ('problem' in outcome) return;
    clearDraft();
    setSaid('');
    setShipped('done' in outcome ? outcome.done : 'kept');
  }
  return (
    <Page
      title="Dispatch"
      sub="Scan what goes, check it against the order, ship it."
      facts={[{ label: 'Lines', value: draft.lines.length }]}
    >
      <DispatchTabs />
      {shipped === null ? null : <Shipped shipment={shipped} />}
      <p className="scan-said" role="status">
        {said === '' ? '' : `Scanned: ${said}`}
      </p>
      {mayShip ? (
        <PickAdvice items={items} location={draft.head.location} onTake={(lines) => setLines((before) => [...before, ...lines])} />
      ) : null}
      {mayShip ? (
        <Form label="A shipment" problem={command.problem} onSubmit={() => void ship()}>
          <Section title="To whom">
            <ShipHeadFields head={draft.head} onChange={setHead} />
          </Section>
          <Section
            title="What goes"
            note={draft.lines.length === 0 ? 'scan a label or a serial, take the advice above, or add a line by hand' : undefined}
          >
            {draft.lines.map((line, at) => (
              <GoodsFields
                // oxlint-disable-next-line react/no-array-index-key -- a line is its place: it has no other name yet
                key={at}
                at={at}
                line={line}
                items={items}
                location={draft.head.location}
                onChange={(part) => setLines((lines) => lines.map((one, i) => (i === at ? { ...one, ...part } : one)))}
                onTakeOut={() => setLines((lines) => lines.filter((_, i) => i !== at))}
              >
                <TextField
                  name={`/lines/${at}/pickReason`}
                  label="Why not the oldest?"
                  hint="only where older stock stays behind"
                  value={line.pickReason}
                  onChange={(event) => {
                    const pickReason = event.target.value;
                    setLines((lines) => lines.map((one, i) => (i === at ? { ...one, pickReason } : one)));
                  }}
                />
              </GoodsFields>
            ))}
            <button type="button" onClick={() => setLines((lines) => [...lines, EMPTY_GOODS])}>
              Add a line by hand
            </button>
          </Section>
          <div className="row">
            <button type="submit" className="primary" disabled={command.busy || draft.lines.length === 0}>
              {command.busy ? 'Shipping …' : `Ship ${draft.lines.length === 1 ? '1 line' : `${draft.lines.length} lines`}`}
            </button>
            <button type="button" onClick={clearDraft}>
              Clear the form
            </button>
          </div>
        </Form>
      ) : (
        <Notice>
          <p>Shipments are recorded by dispatchers. You can read them under Shipments.</p>
        </Notice>
      )}
    </Page>
  );
}

function Shipped({ shipment }: { shipment: View<'ShipmentView'> | 'kept' }) {
  if (shipment === 'kept') {
    return (
      <Notice>
        <p>
          There is no connection. The shipment is kept on this device and judged when it is sent.{' '}
          <strong>Let nothing leave before it is recorded:</strong> a hold may have been placed meanwhile.
        </p>
      </Notice>
    );
  }
  return (
    <Notice>
      <p>
        Shipped: <Refer kind="shipment" code={shipment.shipment} /> to {shipment.customerName}. Its page is the dispatch note.
      </p>
    </Notice>
  );
}
