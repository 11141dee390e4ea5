import { writtenCount, writtenMoney } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Pareto } from '../pictures/pareto.js';
import { server, type View } from '../wire/client.js';
import { CsvLink, type Period } from './csv-link.js';
import { asTitle, kindWords } from './words.js';

type Row = View<'CostRowView'>;

const labelOf = ({ dispositionKind, kind }: Row): string =>
  `${dispositionKind === null ? 'Report as a whole' : kindWords(dispositionKind).says}, ${kind}`;

/** What it cost, by what became of the pieces and by what was paid for; the largest first. */
export function CostFigures({ period }: { period: Period }) {
  const query = server.useQuery('get', '/api/figures/costs', { params: { query: period } });
  return (
    <Section title="What it costs" note="costs recorded in the period" actions={<CsvLink file="costs" query={{ ...period }} />}>
      <Answered query={query} what="the costs">
        {(costs) => <Costs costs={costs} />}
      </Answered>
    </Section>
  );
}

function Costs({ costs }: { costs: View<'CostFiguresView'> }) {
  const { currency, rows, totalMinor } = costs;
  const money = (minor: number): string => `${writtenMoney(minor, currency)}\u00a0${currency}`;
  if (rows.length === 0) {
    return (
      <Empty>
        <p>No cost was recorded in this period. Costs are recorded on the page of each report, also after it is closed.</p>
      </Empty>
    );
  }
  return (
    <Pareto bars={rows.map((row) => ({ code: labelOf(row), value: row.minor }))} label="Costs" written={money}>
      <p>
        <strong>{money(totalMinor)} in all</strong>
      </p>
      <LedgerTable
        caption={`Costs, most first; ${money(totalMinor)} in all`}
        rows={rows}
        rowKey={labelOf}
        columns={[
          {
            head: 'Became',
            cell: ({ dispositionKind }) => (dispositionKind === null ? 'the report as a whole' : kindWords(dispositionKind).says),
          },
          { head: 'Kind', cell: ({ kind }) => asTitle(kind) },
          { head: 'Reports', num: true, cell: ({ reports }) => writtenCount(reports) },
          { head: `Amount (${currency})`, num: true, cell: ({ minor }) => writtenMoney(minor, currency) },
        ]}
      />
    </Pareto>
  );
}
