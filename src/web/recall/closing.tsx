import { inWords } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Section } from '../design/page.js';
import { Gaps } from './gaps.js';
import type { Progress, Whole } from './recall-page.js';

/** What is outstanding, the two signatures that close it, what was learned, and the report. */
export function Closing({ scope, progress }: { scope: Whole; progress: Progress }) {
  const pdf = `/api/recalls/${encodeURIComponent(progress.recall)}/report.pdf`;
  const may = useMay('quality', 'recall-lead');
  return (
    <>
      <Section title="The report" note="tagged PDF; the same byte for byte whenever it is asked for">
        <div className="row">
          <a className="button primary" href={`${pdf}?asKnownAt=${progress.asKnownAt.seq}`} target="_blank" rel="noreferrer">
            Report as of entry {progress.asKnownAt.seq} (PDF)
          </a>
          <a className="button" href={pdf} target="_blank" rel="noreferrer">
            Report of the scope as frozen (PDF)
          </a>
        </div>
      </Section>
      <Section title="Outstanding" note={`${progress.outstanding.length}`}>
        {progress.outstanding.length === 0 ? (
          <p>Nothing is outstanding.</p>
        ) : (
          <ul>
            {progress.outstanding.map(({ code, detail }) => (
              <li key={`${code} ${detail}`}>{detail}</li>
            ))}
          </ul>
        )}
      </Section>
      <Section title="Closing" note="two signatures: a recall lead and quality, two persons">
        <Signatures progress={progress} />
        {progress.status === 'open' && may ? (
          <CommandForm
            path="/api/recalls/{recall}/closing"
            address={{ recall: progress.recall }}
            submit="Sign the closing"
            danger
            signs={`that ${scope.drill ? 'drill' : 'recall'} ${progress.recall} can be closed as it stands`}
            body={(values) => ({ nevertheless: values.maybe('/nevertheless') })}
            onDone={() => undefined}
          >
            <Caution>
              After the second signature nothing about this recall changes but its gaps; goods found later are another recall. If goods,
              notices, answers or checks change before it, the first signature counts no more.
            </Caution>
            {progress.outstanding.length === 0 ? null : (
              <TextAreaField
                name="/nevertheless"
                label={`Why it is closed although ${progress.outstanding.length} things are outstanding`}
                required
              />
            )}
          </CommandForm>
        ) : null}
      </Section>
      <Gaps progress={progress} />
    </>
  );
}

function Signatures({ progress }: { progress: Progress }) {
  return (
    <LedgerTable
      caption="Signatures on the closing"
      rows={progress.signatures}
      rowKey={({ seq }) => `${seq}`}
      columns={[
        { head: 'Who', cell: ({ by }) => <code>{by}</code> },
        { head: 'As', cell: (one) => inWords(one.as) },
        { head: 'When', cell: ({ at }) => localWritten(at) },
        { head: 'Why', cell: ({ reason, nevertheless }) => (nevertheless === null ? reason : `${reason}; nevertheless: ${nevertheless}`) },
        { head: 'Counts', cell: ({ stands }) => (stands ? 'yes' : <strong className="urgent">no: something changed since</strong>) },
      ]}
      empty={
        <Empty>
          <p>Nobody has signed the closing.</p>
        </Empty>
      }
    />
  );
}
