import { localWritten } from '../app/clock.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { counted } from './amounts.js';
import type { Learning } from './report-parts.js';
import { SeverityMark } from './severity.js';
import { asTitle } from './words.js';

/** Other reports that have something in common with this one, and what. */
export function Repeats({ learning }: { learning: Learning }) {
  const { repeats } = learning;
  return (
    <Section title="Seen before" note={repeats.length === 0 ? undefined : `${counted(repeats.length, 'report')} with something in common`}>
      <LedgerTable
        caption="Reports with something in common, most first"
        rows={repeats}
        rowKey={({ report }) => report}
        columns={[
          { head: 'Report', cell: ({ report }) => <Refer kind="report" code={report} /> },
          { head: 'Severity', cell: ({ severity }) => <SeverityMark severity={severity} /> },
          { head: 'Requirement', cell: ({ requirement }) => requirement },
          { head: 'In common', cell: ({ because }) => because.map(({ what, code }) => `${what} ${code}`).join(', ') },
          { head: 'State', cell: ({ state }) => asTitle(state) },
          { head: 'Raised', cell: ({ raisedAt }) => localWritten(raisedAt) },
        ]}
        empty={<p className="quiet">No other report has the same item, supplier, defect, vessel, instrument or kind of cause.</p>}
      />
    </Section>
  );
}
