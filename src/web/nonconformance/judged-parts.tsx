import { useState } from 'react';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import { Dialog } from '../design/dialog.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { partWritten, piecesWritten } from './amounts.js';
import type { Report } from './report-parts.js';
import { isOpen, RELATION_CHOICES, relationWords } from './words.js';

type Proposal = View<'ProposalView'>;
/** Most are told in the first lines; all of them with one press. */
const AT_FIRST = 8;

type Asked = { readonly affected: boolean; readonly proposal: Proposal | null };

/** What else the genealogy says may be affected, each to be judged in or out with a reason, also when it was shipped. */
export function JudgedParts({ report }: { report: Report }) {
  const query = server.useQuery('get', '/api/reports/{report}/proposals', { params: { path: { report: report.report } } });
  const may = useMay('quality', 'inspector') && isOpen(report.state);
  const [asked, setAsked] = useState<Asked | null>(null);
  const [all, setAll] = useState(false);
  return (
    <>
      <h3>What else may be affected</h3>
      <Answered query={query} what="what the genealogy proposes">
        {(proposals) => (
          <>
            {isOpen(report.state) ? <Open proposals={proposals} /> : null}
            <LedgerTable
              caption={`Proposed by the genealogy, ${proposals.length} in all`}
              rows={all ? proposals : proposals.slice(0, AT_FIRST)}
              rowKey={({ lot, pieces, relation }) => `${lot} ${pieces} ${relation}`}
              columns={[
                { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
                { head: 'Item', cell: ({ item }) => <code>{item}</code> },
                { head: 'Pieces', cell: ({ pieces }) => (pieces === null ? 'bulk' : piecesWritten(pieces)) },
                { head: 'Why', cell: ({ relation, because }) => <Why relation={relation} because={because} /> },
                { head: 'Shipped', cell: ({ shipped }) => (shipped ? <span className="urgent">some of it</span> : 'no') },
                {
                  head: 'Judged',
                  cell: (proposal) => <Judgement proposal={proposal} may={may} onJudge={(affected) => setAsked({ affected, proposal })} />,
                },
              ]}
              empty={<p className="quiet">The genealogy proposes nothing else.</p>}
            />
            {proposals.length <= AT_FIRST ? null : (
              <button type="button" className="no-print" aria-expanded={all} onClick={() => setAll(!all)}>
                {all ? `Show the first ${AT_FIRST}` : `Show all ${proposals.length}`}
              </button>
            )}
          </>
        )}
      </Answered>
      {may ? (
        <div className="row">
          <button type="button" onClick={() => setAsked({ affected: true, proposal: null })}>
            Judge another part
          </button>
        </div>
      ) : null}
      <Judged report={report} />
      {asked === null ? null : <JudgeDialog report={report} asked={asked} onClose={() => setAsked(null)} />}
    </>
  );
}

function Open({ proposals }: { proposals: readonly Proposal[] }) {
  const open = proposals.filter(({ judged }) => judged === null);
  const shipped = open.filter(({ shipped: gone }) => gone).length;
  if (open.length === 0) return null;
  return (
    <p className={shipped > 0 ? 'urgent' : 'quiet'}>
      {open.length} of {proposals.length} not judged yet{shipped > 0 ? `, ${shipped} of them shipped in part` : ''}
    </p>
  );
}

const Why = ({ relation, because }: { relation: Proposal['relation']; because: string }) => (
  <>
    {because}
    <div className="quiet">{relationWords(relation)}</div>
  </>
);

function Judgement({ proposal, may, onJudge }: { proposal: Proposal; may: boolean; onJudge: (affected: boolean) => void }) {
  if (proposal.judged !== null) return <strong>{proposal.judged}</strong>;
  if (!may) return <>not yet</>;
  const of = <span className="hidden-but-read"> {proposal.lot}</span>;
  return (
    <span className="nc-judge">
      <button type="button" onClick={() => onJudge(true)}>
        In{of}
      </button>
      <button type="button" onClick={() => onJudge(false)}>
        Out{of}
      </button>
    </span>
  );
}

function Judged({ report }: { report: Report }) {
  if (report.judged.length === 0) return null;
  return (
    <LedgerTable
      caption="Judged in or out"
      rows={report.judged}
      rowKey={({ lot, pieces, at }) => `${lot} ${pieces} ${at}`}
      columns={[
        { head: 'Judged', cell: ({ affected }) => (affected ? 'in' : 'out') },
        { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
        { head: 'Part', cell: (part) => partWritten(part) },
        { head: 'Because', cell: ({ reason }) => reason },
        { head: 'By', cell: ({ by }) => <code>{by}</code> },
      ]}
    />
  );
}

function JudgeDialog({ report, asked, onClose }: { report: Report; asked: Asked; onClose: () => void }) {
  const { proposal, affected } = asked;
  const [isIn, setIn] = useState(affected);
  return (
    <Dialog title={proposal === null ? 'Judge another part' : `${proposal.lot}: ${isIn ? 'affected' : 'not affected'}`} onClose={onClose}>
      {isIn && report.state !== 'raised' ? (
        <Caution>
          <p>
            A part judged in is held at once, with what was made from it, and needs a disposition of its own. A report that was further goes
            back to being reviewed.
          </p>
        </Caution>
      ) : null}
      <CommandForm
        path="/api/reports/{report}/parts"
        address={{ report: report.report }}
        body={(values) => ({
          lot: proposal?.lot ?? values.text('/lot'),
          pieces: values.maybe('/pieces'),
          quantity: values.maybe('/quantity'),
          relation: proposal?.relation ?? values.choice('/relation'),
          affected: isIn,
          reason: values.text('/reason'),
        })}
        submit={isIn ? 'Judge it in' : 'Judge it out'}
        onDone={onClose}
        onCancel={onClose}
      >
        {proposal === null ? (
          <>
            <div className="grid">
              <TextField name="/lot" label="Lot" code required />
              <ChoiceField name="/relation" label="How it is related" choices={RELATION_CHOICES} />
              <ChoiceField
                name="/affected"
                label="Judged"
                choices={[
                  { value: 'in', says: 'In: affected' },
                  { value: 'out', says: 'Out: not affected' },
                ]}
                value={isIn ? 'in' : 'out'}
                onChange={(event) => setIn(event.target.value === 'in')}
              />
            </div>
            <div className="grid">
              <TextField name="/pieces" label="Pieces" hint="As 5-17,40; left empty: all" code />
              <TextField name="/quantity" label="Or quantity of a bulk lot" hint="Left empty: all" inputMode="decimal" />
            </div>
          </>
        ) : proposal.pieces === null ? null : (
          <TextField name="/pieces" label="Pieces" code defaultValue={proposal.pieces} />
        )}
        <TextAreaField name="/reason" label="Why" hint={proposal?.because} required rows={2} />
      </CommandForm>
    </Dialog>
  );
}
