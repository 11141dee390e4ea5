import { useState } from 'react';
import { WESTERN_ELECTRIC_RULES } from '../../../shared/statistics/western-electric.js';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Facts, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { ControlChartPicture, RuleMark } from '../pictures/control-chart.js';
import { HistogramPicture } from '../pictures/histogram.js';
import { writtenFigure } from '../pictures/plot-axis.js';
import { server, type View } from '../wire/client.js';
import { Capability } from './capability.js';
import type { ChartAsked } from './charts-page.js';

type ChartView = View<'ChartView'>;
type Panel = View<'ChartPanelView'>;

/** The statistics that are plotted, in words. */
const STATISTICS: Readonly<Record<string, string>> = {
  mean: 'mean',
  range: 'range',
  individual: 'result',
  'moving-range': 'moving range',
  fraction: 'share nonconforming',
  count: 'nonconformities',
};

/** The chart that was asked for: panels, what its rules find, what each point stands for, capability. */
export function Chart({ asked }: { asked: ChartAsked }) {
  const { item, chart, characteristic, supplier, from, to, baseline } = asked;
  const query = server.useQuery('get', '/api/control-charts', {
    params: {
      query: {
        item,
        chart,
        ...(characteristic === '' ? {} : { characteristic }),
        ...(supplier === '' ? {} : { supplier }),
        ...(from === '' ? {} : { from: `${from}T00:00:00.000Z` }),
        ...(to === '' ? {} : { to: `${to}T00:00:00.000Z` }),
        ...(baseline === '' ? {} : { baseline: Number(baseline) }),
      },
    },
  });
  const plan = server.useQuery('get', '/api/inspection-plans/{item}', { params: { path: { item } } });
  return (
    <Answered query={query} what="the chart">
      {(view) => <Drawn view={view} plan={plan.data} />}
    </Answered>
  );
}

function Drawn({ view, plan }: { view: ChartView; plan: View<'InspectionPlanView'> | undefined }) {
  const [chosen, setChosen] = useState<number | null>(null);
  const of = plan?.characteristics.find(({ code }) => code === view.characteristic);
  const title = `${view.item}${of === undefined ? '' : `: ${of.name}`}`;
  const unit = view.unit ?? '';
  const signals = view.panels.flatMap((panel) => panel.signals.map((signal) => ({ ...signal, statistic: panel.statistic })));
  if (view.sources.length === 0) {
    return (
      <Empty>
        <p>Nothing to chart yet: no result and no verdict of this kind in this time.</p>
      </Empty>
    );
  }
  return (
    <>
      <Section title={title} note={`${writtenCount(view.sources.length)} points, limits from ${writtenCount(view.baseline)}`}>
        <Facts
          facts={[
            { label: 'In control', value: view.inControl ? 'yes' : 'no', warn: !view.inControl },
            { label: 'Signals', value: writtenCount(signals.length), warn: signals.length > 0 },
          ]}
        />
        {view.cautions.length === 0 ? null : (
          <Caution>
            <ul className="plain-list">
              {view.cautions.map(({ about, words }) => (
                <li key={about}>{words}</li>
              ))}
            </ul>
          </Caution>
        )}
        {view.panels.map((panel) => (
          <ControlChartPicture
            key={panel.statistic}
            panel={panel}
            title={STATISTICS[panel.statistic] ?? panel.statistic}
            unit={unit}
            chosen={chosen}
            onChoose={setChosen}
            reading={readingOf(view, panel, chosen, unit)}
          />
        ))}
        <p className="quiet">
          Dashed: limits at 3 standard deviations; thin: 1 and 2. A point that completes a rule has the rule&rsquo;s shape, and its number
          above:
        </p>
        <ul className="rule-key">
          {Object.entries(WESTERN_ELECTRIC_RULES).map(([rule, words]) => (
            <li key={rule}>
              <RuleMark rule={Number(rule)} /> {rule}: {words}
            </li>
          ))}
        </ul>
      </Section>
      <Section title="What the rules find" note="Western Electric handbook, 1956, rules 1 to 4">
        <LedgerTable
          caption="Signals"
          rows={signals}
          rowKey={({ statistic, rule, at }) => `${statistic} ${rule} ${at}`}
          onRow={(row) => setChosen(row?.at ?? null)}
          columns={[
            { head: 'Panel', cell: ({ statistic }) => STATISTICS[statistic] ?? statistic },
            { head: 'Rule', num: true, cell: ({ rule }) => rule },
            { head: 'Points', cell: ({ from, at }) => (from === at ? `${at}` : `${from} to ${at}`) },
            { head: 'Side', cell: ({ side }) => side },
            { head: 'What', cell: ({ words }) => words },
          ]}
          empty={<p>No rule finds anything: the points look like chance around a steady process.</p>}
        />
      </Section>
      {view.capability === null ? null : <Capability of={view.capability} unit={unit} />}
      <Spread view={view} title={title} of={of} />
      <Points view={view} chosen={chosen} onChoose={setChosen} />
    </>
  );
}

function readingOf(view: ChartView, panel: Panel, chosen: number | null, unit: string): string {
  const point = panel.points.find(({ at }) => at === chosen);
  const source = view.sources.find(({ at }) => at === chosen);
  if (point === undefined) return `no point ${chosen ?? ''} here`;
  const words = panel.signals.filter(({ at }) => at === chosen).map(({ rule, words: says }) => `rule ${rule}: ${says}`);
  return [
    `Point ${point.at}: ${writtenFigure(point.value, 5)} ${unit}`,
    ...(source === undefined ? [] : [`lot ${source.lot}, ${source.inspection}, ${localWritten(source.when)}`]),
    ...words,
  ].join('; ');
}

/** How the plotted values are spread against the limits of the plan. */
function Spread({ view, title, of }: { view: ChartView; title: string; of: View<'PlanCharacteristicView'> | undefined }) {
  const [first] = view.panels;
  if (of === undefined || first === undefined) return null;
  const limit = (text: string | undefined): number | null => (text === undefined ? null : Number(text));
  const means = first.statistic === 'mean';
  return (
    <Section title="Spread" note={means ? 'of the means; single readings spread wider' : 'of the results, against the limits of the plan'}>
      <HistogramPicture
        values={first.points.map(({ value }) => value)}
        lower={limit(of.lower)}
        upper={limit(of.upper)}
        name={means ? `Means of ${title}` : title}
        unit={view.unit ?? ''}
      />
    </Section>
  );
}

function Points({ view, chosen, onChoose }: { view: ChartView; chosen: number | null; onChoose: (at: number | null) => void }) {
  return (
    <Section title="Points" note="what each stands for">
      <LedgerTable
        caption="Points of the chart"
        rows={view.sources}
        rowKey={({ at }) => `${at}`}
        rowClass={({ at }) => (at === chosen ? 'chosen' : undefined)}
        onRow={(row) => onChoose(row?.at ?? null)}
        columns={[
          { head: 'Point', num: true, cell: ({ at }) => at },
          { head: 'When', cell: ({ when }) => localWritten(when) },
          { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
          { head: 'Inspection', cell: ({ inspection }) => <Refer kind="inspection" code={inspection} /> },
          ...view.panels.flatMap((panel) => [
            {
              head: STATISTICS[panel.statistic] ?? panel.statistic,
              num: true,
              cell: ({ at }: { at: number }) => <Value panel={panel} at={at} />,
            },
          ]),
          {
            head: 'Limits of the first panel',
            num: true,
            cell: ({ at }) => {
              const point = view.panels[0]?.points.find((one) => one.at === at);
              return point === undefined ? '' : `${writtenFigure(point.lower)} to ${writtenFigure(point.upper)}`;
            },
          },
        ]}
      />
      {view.leftOut.length === 0 ? null : (
        <p>
          Left out, with another number of readings than most:{' '}
          {view.leftOut.map(({ inspection, lot }) => `${inspection} of ${lot}`).join(', ')}.
        </p>
      )}
    </Section>
  );
}

function Value({ panel, at }: { panel: Panel; at: number }) {
  const point = panel.points.find((one) => one.at === at);
  if (point === undefined) return null;
  const value = writtenFigure(point.value, 5);
  return point.signals.length === 0 ? <>{value}</> : <strong className="urgent">{`${value}, rule ${point.signals.join(', ')}`}</strong>;
}
