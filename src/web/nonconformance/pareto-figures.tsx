import { useState } from 'react';
import { writtenCount, writtenShare } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { type Kind, Refer } from '../design/refer.js';
import { Pareto } from '../pictures/pareto.js';
import { server, type View } from '../wire/client.js';
import { CsvLink, type Period } from './csv-link.js';
import { asTitle } from './words.js';

type By = View<'ParetoView'>['by'];
const BY: readonly { readonly value: By; readonly says: string }[] = [
  { value: 'defect', says: 'Defect' },
  { value: 'cause', says: 'Cause' },
  { value: 'item', says: 'Item' },
  { value: 'supplier', says: 'Supplier' },
  { value: 'line', says: 'Line' },
];
const PAGE_OF: Readonly<Partial<Record<By, Kind>>> = { item: 'item', supplier: 'supplier', line: 'line' };

/** What goes wrong most: reports counted by defect, cause, item, supplier or line, with the cumulative share. */
export function ParetoFigures({ period }: { period: Period }) {
  const [by, setBy] = useState<By>('defect');
  const query = server.useQuery('get', '/api/figures/nonconformance', { params: { query: { by, ...period } } });
  return (
    <Section
      title="What goes wrong most"
      note="reports raised in the period; those withdrawn are left out"
      actions={<CsvLink file="nonconformance" query={{ by, ...period }} />}
    >
      <div className="row no-print nc-by" role="group" aria-label="Counted by">
        {BY.map(({ value, says }) => (
          <button key={value} type="button" aria-pressed={by === value} onClick={() => setBy(value)}>
            {says}
          </button>
        ))}
      </div>
      <Answered query={query} what="the counts">
        {(answer) => <Counted answer={answer} by={by} />}
      </Answered>
    </Section>
  );
}

function Counted({ answer, by }: { answer: View<'ParetoView'>; by: By }) {
  const kind = PAGE_OF[by];
  const { rows } = answer;
  if (rows.length === 0) {
    return (
      <Empty>
        <p>
          {answer.reports === 0
            ? 'No report was raised in this period.'
            : `None of the ${writtenCount(answer.reports)} reports of this period names a ${by}.`}
        </p>
      </Empty>
    );
  }
  return (
    <Pareto bars={rows.map(({ code, reports }) => ({ code, value: reports }))} label={`Reports by ${by}`} written={writtenCount}>
      <p>
        {writtenCount(answer.reports)} {answer.reports === 1 ? 'report' : 'reports'}
        {answer.without > 0 ? `; ${writtenCount(answer.without)} of them without a ${by}` : ''}. A report with two stands in two rows.
      </p>
      <LedgerTable
        caption={`Reports by ${by}, most first`}
        rows={rows}
        rowKey={({ code }) => code}
        columns={[
          { head: asTitle(by), cell: ({ code }) => (kind === undefined ? <code>{code}</code> : <Refer kind={kind} code={code} />) },
          { head: 'Reports', num: true, cell: ({ reports }) => writtenCount(reports) },
          ...(by === 'defect'
            ? [{ head: 'Found in all', num: true, cell: ({ found }: View<'ParetoRowView'>) => (found === null ? '' : writtenCount(found)) }]
            : []),
          { head: 'Share', num: true, cell: ({ share }) => writtenShare(share) },
          { head: 'With those above', num: true, cell: ({ cumulativeShare }) => writtenShare(cumulativeShare) },
        ]}
      />
    </Pareto>
  );
}
