import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Facts, Section } from '../design/page.js';
import { writtenFigure } from '../pictures/plot-axis.js';
import type { View } from '../wire/client.js';

type Indices = View<'CapabilityIndicesView'>;

const shown = (value: number | null): string => (value === null ? 'no such limit' : writtenFigure(value, 3));

/** Whether the process can keep its limits: the indices with their intervals, and with what they must not be taken for. */
export function Capability({ of, unit }: { of: View<'CapabilityView'>; unit: string }) {
  const rows = [
    { name: 'Within subgroups: Cp, Cpk', indices: of.within },
    { name: 'Overall: Pp, Ppk', indices: of.overall },
  ].filter((row): row is { name: string; indices: Indices } => row.indices !== null);
  return (
    <Section title="Capability" note="against the limits of the plan as it stands">
      <Facts
        facts={[
          { label: 'Values', value: of.values },
          { label: 'Mean', value: `${writtenFigure(of.mean, 5)} ${unit}` },
          { label: 'Outside the limits', value: of.outside, warn: of.outside > 0 },
          { label: 'In control', value: of.inControl ? 'yes' : 'no', warn: !of.inControl },
        ]}
      />
      {of.cautions.length === 0 ? null : (
        <Caution>
          <ul className="plain-list">
            {of.cautions.map(({ about, words }) => (
              <li key={about}>{words}</li>
            ))}
          </ul>
        </Caution>
      )}
      <LedgerTable
        caption="Capability indices"
        rows={rows}
        rowKey={({ name }) => name}
        columns={[
          { head: 'By which spread', cell: ({ name }) => name },
          { head: 'Of the width (Cp, Pp)', num: true, cell: ({ indices }) => shown(indices.width) },
          { head: 'To the lower limit', num: true, cell: ({ indices }) => shown(indices.lower) },
          { head: 'To the upper limit', num: true, cell: ({ indices }) => shown(indices.upper) },
          { head: 'The worse (Cpk, Ppk)', num: true, cell: ({ indices }) => <strong>{shown(indices.worst)}</strong> },
          {
            head: 'Interval of the worse',
            num: true,
            cell: ({ indices: { interval } }) =>
              `${writtenFigure(interval.lower, 3)} to ${writtenFigure(interval.upper, 3)} (${writtenFigure(interval.confidence * 100)} %)`,
          },
          { head: `Standard deviation (${unit})`, num: true, cell: ({ indices }) => writtenFigure(indices.sigma) },
        ]}
        empty={<p>Too few values for an index.</p>}
      />
    </Section>
  );
}
