import { Injectable } from '@nestjs/common';
import { Reasons, Refusal } from '../../../../shared/refusal.js';
import { countChart, fractionChart } from '../../../../shared/statistics/attributes-chart.js';
import { type CapabilityStudy, capabilityStudy, type Specification } from '../../../../shared/statistics/capability.js';
import { ChartFault, type ControlChart } from '../../../../shared/statistics/control-chart.js';
import { individualsChart, meanRangeChart } from '../../../../shared/statistics/variables-chart.js';
import { Reader } from '../../platform/database/reader.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import type { ChartQueryDto, ChartSourceView, ChartView } from './charts.dto.js';
import { type ChartedLot, type ChartedResult, chartedLots, chartedResults } from './charts.query.js';

interface Charted {
  readonly chart: ControlChart;
  readonly sources: readonly (ChartedResult | ChartedLot)[];
  readonly leftOut: readonly ChartedResult[];
  /** Subgroups to study against the limits; null for attributes. */
  readonly subgroups: readonly (readonly number[])[] | null;
  readonly unit: string | null;
}

/** Control charts and capability of what was measured and counted at inspections. */
@Injectable()
export class ChartsService {
  constructor(private readonly reader: Reader) {}

  /** @throws Refusal when there is nothing to draw, or too little of it */
  async chart(query: ChartQueryDto): Promise<ChartView> {
    const { chart, sources, leftOut, subgroups, unit } = await drawable(() => this.#charted(query));
    const capability = subgroups === null ? null : await this.#capability(query, subgroups);
    return {
      item: query.item,
      characteristic: query.characteristic ?? null,
      unit,
      ...(chart as unknown as Pick<ChartView, 'kind' | 'panels' | 'baseline' | 'inControl' | 'cautions'>),
      sources: sources.map(sourceView),
      capability: capability as unknown as ChartView['capability'],
      leftOut: leftOut.map(sourceView),
    };
  }

  async #charted(query: ChartQueryDto): Promise<Charted> {
    const { baseline, chart: kind, characteristic } = query;
    const options = { baseline };
    if (kind === 'fraction' || kind === 'count') {
      const lots = await chartedLots(this.reader.manager, query);
      const chart =
        kind === 'fraction'
          ? fractionChart(lots, options)
          : countChart(
              lots.map((lot) => lot.nonconformities),
              options,
            );
      return { chart, sources: lots, leftOut: [], subgroups: null, unit: null };
    }
    if (characteristic === undefined) {
      const no = new Reasons();
      no.malformed('characteristic-missing', `a chart of ${kind} is of a measured characteristic: name it`, { pointer: '/characteristic' });
      no.throwIfAny();
    }
    const results = await chartedResults(this.reader.manager, { ...query, characteristic: characteristic! });
    const unit = results[0]?.unit ?? null;
    if (kind === 'individuals') {
      const values = results.map((one) => one.valueMicro);
      return { chart: individualsChart(values, options), sources: results, leftOut: [], subgroups: values.map((one) => [one]), unit };
    }
    const size = usualSize(results);
    const sources = results.filter((one) => one.readingsMicro.length === size);
    const subgroups = sources.map((one) => one.readingsMicro);
    return {
      chart: meanRangeChart(subgroups, options),
      sources,
      leftOut: results.filter((one) => !sources.includes(one)),
      subgroups,
      unit,
    };
  }

  async #capability({ item, characteristic }: ChartQueryDto, subgroups: readonly (readonly number[])[]): Promise<CapabilityStudy | null> {
    const plan = (await catalogueByCode(this.reader.manager, 'inspection-plan', [item])).get(item);
    const measured = plan?.characteristics.find((one) => one.code === characteristic);
    if (measured?.kind !== 'measured') return null;
    const limits: Specification = measured;
    return limits.lowerMicro === undefined && limits.upperMicro === undefined ? null : capabilityStudy(subgroups, limits);
  }
}

/** Most results have this many readings; of two, the larger. */
function usualSize(results: readonly ChartedResult[]): number {
  const counts = new Map<number, number>();
  for (const { readingsMicro } of results) counts.set(readingsMicro.length, (counts.get(readingsMicro.length) ?? 0) + 1);
  return [...counts].toSorted(([sizeA, a], [sizeB, b]) => b - a || sizeB - sizeA)[0]?.[0] ?? 0;
}

const sourceView = ({ inspection, lot, when }: ChartedResult | ChartedLot, i: number): ChartSourceView => ({
  at: i + 1,
  inspection,
  lot,
  when,
});

async function drawable<T>(draw: () => Promise<T>): Promise<T> {
  try {
    return await draw();
  } catch (error) {
    if (!(error instanceof ChartFault)) throw error;
    throw new Refusal('conflict', [{ code: 'no-chart', detail: error.message }]);
  }
}
