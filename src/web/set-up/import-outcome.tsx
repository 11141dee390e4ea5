import { useEffect, useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { nowMs } from '../app/clock.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Notice } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Refused } from '../design/refused.js';
import type { View } from '../wire/client.js';
import { writtenSize } from './import-files.js';
import type { FileProblem, ImportRun } from './import-run.js';

type Counts = View<'ImportCountsView'>;

const COUNTED: readonly { readonly key: keyof Counts; readonly one: string; readonly many: string }[] = [
  { key: 'parties', one: 'party', many: 'parties' },
  { key: 'items', one: 'item', many: 'items' },
  { key: 'lots', one: 'lot', many: 'lots' },
  { key: 'links', one: 'link', many: 'links' },
  { key: 'runs', one: 'run', many: 'runs' },
  { key: 'shipments', one: 'shipment', many: 'shipments' },
  { key: 'shipmentLines', one: 'shipment line', many: 'shipment lines' },
];

/** How much there is of what, leaving out what there is nothing of: `2 items, 7 lots`. */
export const countsInWords = (counts: Counts): string =>
  COUNTED.filter(({ key }) => counts[key] > 0)
    .map(({ key, one, many }) => `${writtenCount(counts[key])} ${counts[key] === 1 ? one : many}`)
    .join(', ');

/** How far an import is, or what came of it. */
export function ImportOutcome({ run }: { run: ImportRun }) {
  switch (run.phase) {
    case 'sending':
      return (
        <div role="status" className="import-progress">
          <progress max={run.of} value={run.sent} aria-label="Sent so far" />
          <p>
            Sending: {writtenSize(run.sent)} of {writtenSize(run.of)}
          </p>
        </div>
      );
    case 'checking':
      return <Checking sinceMs={run.sinceMs} dryRun={run.dryRun} />;
    case 'done':
      return <Done report={run.report} />;
    case 'refused':
      return <Faults problem={run.problem} />;
    default:
      return null;
  }
}

function Checking({ sinceMs, dryRun }: { sinceMs: number; dryRun: boolean }) {
  const [now, setNow] = useState(nowMs);
  useEffect(() => {
    const timer = setInterval(() => setNow(nowMs()), 1000);
    return () => clearInterval(timer);
  }, []);
  return (
    <div className="import-progress">
      <progress aria-label="The server works" />
      <p role="status">{dryRun ? 'The server checks the files.' : 'The server checks the files and writes them into the record.'}</p>
      <p className="quiet">
        {writtenCount(Math.max(0, Math.floor((now - sinceMs) / 1000)))} s so far. Go on with other work: what comes of it waits here.
      </p>
    </div>
  );
}

function Done({ report }: { report: View<'ImportReportView'> }) {
  const words = countsInWords(report.counts);
  return (
    <div role="status">
      <Notice>
        {report.dryRun ? (
          <p>
            <strong>No faults.</strong> The files would bring over {words}. Nothing has been written.
          </p>
        ) : (
          <p>
            <strong>Brought over as {report.import}:</strong> {words}
            {report.seq === null ? null : (
              <>
                , up to entry <Refer kind="entry" code={`${report.seq}`} />
              </>
            )}
            .
          </p>
        )}
      </Notice>
    </div>
  );
}

const said = (value: unknown): string => (typeof value === 'string' || typeof value === 'number' ? `${value}` : '');

/** Every fault where it stands: file, line, column, value, and why it cannot be brought over. */
function Faults({ problem }: { problem: FileProblem }) {
  const faults = problem.reasons.filter((reason) => 'file' in reason);
  if (faults.length === 0) return <Refused problem={problem} />;
  const count = problem.faultCount ?? faults.length;
  return (
    <>
      <div className="summary" role="alert">
        <h3>{count === 1 ? '1 fault' : `${writtenCount(count)} faults`} in the files: nothing was brought over</h3>
        <p>
          {count > faults.length ? `The first ${writtenCount(faults.length)} are listed. ` : ''}Put them right in the files and choose them
          again.
        </p>
      </div>
      <LedgerTable
        caption="Faults of the files"
        rows={faults.map((fault, at) => ({ fault, at }))}
        rowKey={({ at }) => `${at}`}
        columns={[
          { head: 'File', cell: ({ fault }) => <code>{said(fault['file'])}</code> },
          { head: 'Line', num: true, cell: ({ fault }) => said(fault['line']) },
          { head: 'Column', cell: ({ fault }) => said(fault['column']) },
          { head: 'Value', cell: ({ fault }) => <code className="fault-value">{said(fault['value'])}</code> },
          { head: 'Why not', cell: ({ fault }) => fault.detail },
        ]}
      />
    </>
  );
}
