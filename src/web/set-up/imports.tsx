import { useQueryClient } from '@tanstack/react-query';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { FileChooser } from '../design/file-chooser.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Notice, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import { Crumb } from './crumb.js';
import { choose, useChosen } from './import-chosen.js';
import { type Chosen, chosenWith, IMPORT_FILES, markOf, writtenSize } from './import-files.js';
import { countsInWords, ImportOutcome } from './import-outcome.js';
import { forgetImport, startImport, useImportRun } from './import-run.js';

/** Older records brought over from files: checked first, all of them or nothing. */
export function Imports() {
  const query = server.useQuery('get', '/api/imports');
  const may = useMay('administrator');
  return (
    <Page
      title="Records brought over"
      crumb={<Crumb />}
      sub="Lots, links and shipments from before, so that a trace reaches back beyond the first day. All of a set of files comes over, or nothing."
      facts={[{ label: 'Imports', value: query.data === undefined ? '' : writtenCount(query.data.length) }]}
    >
      {may ? (
        <BringOver />
      ) : (
        <Notice>
          <p>Administrators bring records over. You can read what was brought.</p>
        </Notice>
      )}
      <Section title="Brought over so far" note="newest first">
        <Answered query={query} what="earlier imports">
          {(imports) => (
            <LedgerTable
              caption="Imports, newest first"
              rows={imports}
              rowKey={(one) => one.import}
              columns={[
                { head: 'Import', cell: (one) => <code>{one.import}</code> },
                { head: 'When', cell: ({ at }) => localWritten(at) },
                { head: 'By', cell: ({ by }) => <code>{by}</code> },
                { head: 'Brought over', cell: ({ counts }) => countsInWords(counts) },
                { head: 'Files', cell: ({ files }) => files.map(({ file, rows }) => `${file} (${writtenCount(rows)})`).join(', ') },
                { head: 'Up to entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
              ]}
              empty={
                <Empty>
                  <p>Nothing has been brought over. A plant without older records needs nothing here.</p>
                </Empty>
              }
            />
          )}
        </Answered>
      </Section>
    </Page>
  );
}

function BringOver() {
  const queries = useQueryClient();
  const chosen = useChosen();
  const run = useImportRun();
  const busy = run.phase === 'sending' || run.phase === 'checking';
  const mark = markOf(chosen);
  const checked = run.phase === 'done' && run.report.dryRun && run.mark === mark ? run.report : null;
  const start = (dryRun: boolean): void => startImport(chosen, dryRun, () => void queries.invalidateQueries());
  return (
    <Section title="Bring records over" note="first they are checked, then they are written">
      <div className="form">
        <div className="field">
          <FileChooser
            text="Choose the files …"
            accept=".csv,text/csv"
            disabled={busy}
            onChoose={(files) => {
              choose(chosenWith(chosen, files));
              forgetImport();
            }}
          />
          <span className="hint">any of these five, by exactly these names; UTF-8, comma, a header row</span>
        </div>
        {chosen.strangers.length === 0 ? null : (
          <p className="urgent" role="alert">
            Not taken, for no file goes by this name: {chosen.strangers.join(', ')}
          </p>
        )}
        <FileTable chosen={chosen} />
        <div className="row">
          <button
            type="button"
            className={checked ? undefined : 'primary'}
            disabled={busy || chosen.files.size === 0}
            onClick={() => start(true)}
          >
            Check the files, write nothing
          </button>
          {chosen.files.size === 0 || busy ? null : (
            <button
              type="button"
              className="plain"
              onClick={() => {
                choose();
                forgetImport();
              }}
            >
              Choose other files
            </button>
          )}
        </div>
        <ImportOutcome run={run} />
        {checked === null ? null : (
          <>
            <Caution>
              <p>
                This writes {countsInWords(checked.counts)} into the record for good: entries are never taken out again. Lots without a
                status come over in quarantine. Nothing else can be written while it runs.
              </p>
            </Caution>
            <div className="row">
              <button type="button" className="danger" onClick={() => start(false)}>
                Bring over {countsInWords(checked.counts)}
              </button>
            </div>
          </>
        )}
      </div>
    </Section>
  );
}

/** The five files, what each holds, and which are chosen. */
function FileTable({ chosen }: { chosen: Chosen }) {
  return (
    <LedgerTable
      caption="Files that can be brought over"
      rows={IMPORT_FILES}
      rowKey={({ name }) => name}
      columns={[
        { head: 'File', cell: ({ name }) => <code>{name}</code> },
        { head: 'Holds', cell: ({ holds }) => holds },
        { head: 'Columns', cell: ({ columns }) => <span className="columns-of">{columns.join(', ')}</span> },
        {
          head: 'Empty one',
          cell: ({ name, columns }) => (
            <a href={`data:text/csv;charset=utf-8,${encodeURIComponent(`${columns.join(',')}\r\n`)}`} download={name}>
              {name}
            </a>
          ),
        },
        {
          head: 'Chosen',
          cell: ({ name }) => {
            const file = chosen.files.get(name);
            return file === undefined ? <span className="quiet">no</span> : <strong>{writtenSize(file.size)}</strong>;
          },
        },
      ]}
    />
  );
}
