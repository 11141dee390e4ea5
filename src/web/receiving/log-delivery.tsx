import { useEffect, useRef, useState } from 'react';
import { useLocation, useSearch } from 'wouter';
import type { Scan } from '../../../shared/scan/scan.js';
import { instantOfLocal, plantInstant } from '../app/clock.js';
import { useMe, useMay } from '../app/session.js';
import { Form } from '../design/form.js';
import { Notice, Page, Section } from '../design/page.js';
import { giveUp, keptCommand } from '../outbox/outbox.js';
import { useDraft } from '../outbox/use-draft.js';
import { useScan } from '../scan/scans.js';
import type { View } from '../wire/client.js';
import { useCommand } from '../wire/use-command.js';
import { Booked } from './booked.js';
import { ClearDialog } from './clear-dialog.js';
import { bodyOfDraft, type DeliveryBody, type Draft, draftOfBody, EMPTY_DRAFT, EMPTY_LINE } from './draft.js';
import { HeadFields } from './head-fields.js';
import { KeptNotice } from './kept-notice.js';
import { LineFields } from './line-fields.js';
import { type Heard, hear, type Proposal } from './proposal.js';
import { ProposalPanel } from './proposal-panel.js';
import { RecentDeliveries } from './recent-deliveries.js';
import { useCatalogue } from './use-catalogue.js';
import './receiving.css';

const keepAs = (body: DeliveryBody): string => `Delivery ${body.document} from ${body.supplier}`;
/** A delivery that was refused after the connection came back is taken into the form again. */
function useTakenBack(take: (draft: Draft) => void): void {
  const [, go] = useLocation();
  const again = new URLSearchParams(useSearch()).get('again');
  useEffect(() => {
    async function takeBack(id: string): Promise<void> {
      const kept = await keptCommand(id);
      if (kept) {
        take(draftOfBody(kept.body as DeliveryBody));
        await giveUp(id);
      }
      go('/receiving', { replace: true });
    }
    if (again !== null) void takeBack(again);
    // oxlint-disable-next-line react/exhaustive-deps -- once for each address
  }, [again]);
}

/** One page for the clerk at the dock: scan or type, correct, book, print the labels. */
export function LogDelivery() {
  const { person } = useMe();
  const mayBook = useMay('clerk', 'administrator');
  const catalogue = useCatalogue();
  const [draft, setDraft, clearDraft] = useDraft<Draft>(`delivery of ${person}`, EMPTY_DRAFT);
  const [proposal, setProposal] = useState<Proposal | null>(null);
  const [booked, setBooked] = useState<View<'DeliveryView'> | null>(null);
  const [kept, setKept] = useState(false);
  const [clearing, setClearing] = useState(false);
  const command = useCommand('/api/deliveries', { keepAs });
  useTakenBack(setDraft);
  // What is scanned while a delivery is on its way belongs to the next one, or to this one if it is refused.
  const meanwhile = useRef<Scan[]>([]);
  function take(scans: readonly Scan[], before: Heard): void {
    const next = hear(scans, before, catalogue);
    setDraft(next.draft);
    setProposal(next.proposal);
  }
  useScan((scan) => {
    if (!mayBook) return false;
    if (scan.kind === 'faulty') return true; // said in the strip: nothing was done
    if (command.busy) {
      meanwhile.current.push(scan);
      return true;
    }
    setBooked(null);
    setKept(false);
    take([scan], { draft, proposal });
    return true;
  });
  async function book(): Promise<void> {
    const outcome = await command.run(bodyOfDraft(draft, draft.receivedAt === '' ? plantInstant() : instantOfLocal(draft.receivedAt)));
    const scans = meanwhile.current.splice(0);
    const refused = 'problem' in outcome;
    if (!refused) {
      clearDraft();
      setBooked('done' in outcome ? outcome.done : null);
      setKept('kept' in outcome);
    }
    if (scans.length > 0) take(scans, { draft: refused ? draft : EMPTY_DRAFT, proposal: null });
  }
  const setLine = (at: number, line: Partial<Draft['lines'][number]>): void =>
    setDraft((before) => ({ ...before, lines: before.lines.map((one, i) => (i === at ? { ...one, ...line } : one)) }));
  const begun = draft.lines.length > 0 || draft.document !== '' || draft.supplier !== '';

  return (
    <Page
      title="Receiving"
      sub="Log what arrives: one line for each supplier’s lot. Everything starts in quarantine."
      facts={[
        { label: 'Lines', value: draft.lines.length },
        {
          label: 'Containers',
          value: draft.lines.reduce((all, line) => all + (Number(line.containers || (line.item === '' ? 0 : 1)) || 0), 0),
        },
      ]}
    >
      {booked === null ? null : <Booked delivery={booked} />}
      {kept ? <KeptNotice /> : null}
      {proposal === null ? null : (
        <ProposalPanel
          proposal={proposal}
          onTake={() => {
            setDraft(proposal.draft);
            setProposal(null);
          }}
          onLeave={() => setProposal(null)}
        />
      )}
      {mayBook ? (
        <Form label="A delivery" problem={command.problem} onSubmit={() => void book()}>
          <Section title="The delivery" note="what the paper says">
            <HeadFields draft={draft} catalogue={catalogue} onChange={(part) => setDraft((before) => ({ ...before, ...part }))} />
          </Section>
          <Section
            title="Lines"
            note={draft.lines.length === 0 ? 'scan the first label, or add a line by hand' : 'correct anything before it is booked'}
          >
            {draft.lines.map((line, at) => (
              <LineFields
                // oxlint-disable-next-line react/no-array-index-key -- a line is its place: it has no other name yet
                key={at}
                at={at}
                line={line}
                catalogue={catalogue}
                onChange={(part) => setLine(at, part)}
                onTakeOut={() => setDraft((before) => ({ ...before, lines: before.lines.filter((_, i) => i !== at) }))}
              />
            ))}
            <div className="row">
              <button type="button" onClick={() => setDraft((before) => ({ ...before, lines: [...before.lines, EMPTY_LINE] }))}>
                Add a line by hand
              </button>
            </div>
          </Section>
          <div className="row">
            <button type="submit" className="primary" disabled={command.busy || draft.lines.length === 0 || proposal !== null}>
              {command.busy ? 'Booking …' : `Book ${draft.lines.length === 1 ? '1 line' : `${draft.lines.length} lines`}`}
            </button>
            {begun ? (
              <button type="button" onClick={() => setClearing(true)}>
                Clear the form …
              </button>
            ) : null}
            {proposal === null ? null : <span className="quiet">Take or leave what was scanned first.</span>}
          </div>
        </Form>
      ) : (
        <Notice>
          <p>Deliveries are logged by clerks. You can read what was booked.</p>
        </Notice>
      )}
      <RecentDeliveries />
      {clearing ? (
        <ClearDialog
          lines={draft.lines.length}
          onClear={() => {
            clearDraft();
            setProposal(null);
            setClearing(false);
          }}
          onClose={() => setClearing(false)}
        />
      ) : null}
    </Page>
  );
}
