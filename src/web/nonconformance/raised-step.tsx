import { LedgerTable } from '../design/ledger-table.js';
import { Thumbs } from '../design/photographs.js';
import { Refer } from '../design/refer.js';
import { localWritten } from '../app/clock.js';
import { server } from '../wire/client.js';
import { writtenCount } from '../../../shared/written.js';
import type { Entry, Report } from './report-parts.js';
import { Said, Step } from './step.js';

/** What was found against which requirement: defects, values, photographs. Everything later answers this. */
export function RaisedStep({ report, entries }: { report: Report; entries: readonly Entry[] }) {
  const { data } = server.useQuery('get', '/api/defects', {}, { staleTime: 60_000 });
  const nameOf = (code: string): string => data?.find((one) => one.code === code)?.name ?? '';
  return (
    <Step id="raised" title="Raised" stands="done" note={report.found}>
      <dl className="nc-told">
        <dt>Requirement</dt>
        <dd>{report.requirement}</dd>
        <dt>Found instead</dt>
        <dd>{report.found}</dd>
        <dt>Found</dt>
        <dd>
          {localWritten(report.foundAt)} by <code>{report.foundBy}</code>
        </dd>
        {report.measured.length === 0 ? null : (
          <>
            <dt>Measured</dt>
            <dd>
              {report.measured.map((line) => (
                <div key={line}>{line}</div>
              ))}
            </dd>
          </>
        )}
      </dl>
      {report.defects.length === 0 ? null : (
        <LedgerTable
          caption="Defects found"
          rows={report.defects}
          rowKey={({ defect }) => defect}
          columns={[
            { head: 'Defect', cell: ({ defect }) => <code>{defect}</code> },
            { head: 'What it is', cell: ({ defect }) => nameOf(defect) },
            { head: 'Found', num: true, cell: ({ count }) => writtenCount(count) },
          ]}
        />
      )}
      <Thumbs files={report.files} of={report.report} />
      <p className="quiet">
        {report.lots.map((lot, i) => (
          <span key={lot}>
            {i > 0 ? ', ' : 'Lots: '}
            <Refer kind="lot" code={lot} />
          </span>
        ))}
      </p>
      <Said entries={entries} kinds={['ReportRaised']} />
    </Step>
  );
}
