import type { Dice } from './dice.js';
import { at, later, workday } from './calendar.js';
import type { Story } from './story.js';

/** What the laboratory reads, by characteristic: a chance of its own, so that the rest of the story stays as it was. */
const READ: Readonly<Record<string, (dice: Dice) => Readonly<Record<string, string>>>> = {
  MELT: (dice) => ({ value: tenths(dice.between(551, 569)) }),
  VISC: (dice) => ({ value: tenths(dice.between(1720, 1890)) }),
  DENS: (dice) => ({ mass: String(dice.between(2520, 2570) / 100), volume: '30' }),
  COLOUR: (dice) => ({ l: tenths(dice.between(375, 389)), a: tenths(dice.between(-46, -37)), b: tenths(dice.between(-331, -321)) }),
  NET: (dice) => ({ net: tenths(dice.between(2496, 2525)) }),
  BORE: (dice) => ({ value: String(dice.between(39_990, 40_020) / 1000) }),
};

/** The instrument each is read with. */
const INSTRUMENT: Readonly<Record<string, string>> = { MELT: 'THERM-3', VISC: 'VISC-1', DENS: 'BAL-2', NET: 'BAL-2', BORE: 'BORE-1' };

const tenths = (count: number): string => String(count / 10);

interface Characteristic {
  readonly code: string;
  readonly kind: string;
  readonly per: string | null;
  readonly replicates: number | null;
}

interface View {
  readonly inspection: string;
  readonly sample: { readonly first: number } | null;
  readonly characteristics: readonly Characteristic[];
  readonly secondSample: boolean;
  readonly toInspect: number;
  readonly verdict: string | null;
}

/** What the inspector finds beside what is measured: a defect and on how many items of the sample. */
export interface Findings {
  readonly defect: string;
  readonly items: number;
}

/**
 * The laboratory inspects a lot by its plan, and answers the verdict; null for an item without a plan.
 * @param time when it begins
 */
export async function inspectLot(story: Story, lot: string, time: string, findings?: Findings): Promise<string | null> {
  const worker = story.as('esme.lab');
  const [line] = await worker.get<{ inspection: string }[]>(`/api/inspections?lot=${lot}&state=waiting`);
  if (!line) return null;
  const path = `/api/inspections/${line.inspection}`;
  story.clock(time);
  let view = await worker.post<View>(`${path}/begin`, {});
  for (const one of view.characteristics) {
    if (one.per === 'lot') view = await worker.post<View>(`${path}/results`, { characteristic: one.code, ...reading(story, one) });
  }
  if (view.sample !== null) {
    story.clock(later(time, 20));
    view = await worker.post<View>(`${path}/tallies`, tally(story, view, findings));
    if (view.secondSample) view = await worker.post<View>(`${path}/tallies`, { sample: 2, conforming: view.toInspect });
  }
  story.clock(later(time, 25));
  return (await worker.post<View>(`${path}/verdict`, {})).verdict;
}

/** The laboratory has begun with a lot, and half of the sample is looked at. */
export async function halfInspect(story: Story, lot: string, time: string, { defect, items }: Findings): Promise<void> {
  const worker = story.as('esme.lab');
  const [line] = await worker.get<{ inspection: string }[]>(`/api/inspections?lot=${lot}&state=waiting`);
  const path = `/api/inspections/${line!.inspection}`;
  story.clock(time);
  const { sample } = await worker.post<View>(`${path}/begin`, {});
  story.clock(later(time, 15));
  await worker.post(`${path}/tallies`, {
    conforming: Math.floor(sample!.first / 2) - items,
    items: Array.from({ length: items }, () => ({ found: [{ defect }] })),
  });
}

function reading(story: Story, { code, replicates }: Characteristic) {
  const read = READ[code]!;
  const instrument = INSTRUMENT[code];
  return {
    readings: Array.from({ length: replicates ?? 1 }, () => read(story.laboratory)),
    ...(instrument === undefined ? {} : { instrument }),
  };
}

/** Items measured one by one, nonconforming ones by their defect, and the rest counted. */
function tally(story: Story, { sample, characteristics }: View, findings: Findings | undefined): object {
  const perItem = characteristics.filter((one) => one.per === 'item');
  const measured = perItem.length === 0 ? 0 : Math.min(MEASURED_ITEMS, sample!.first);
  const chance = findings ?? (story.laboratory.roll() < 0.25 ? { defect: 'D-SCRATCH', items: 1 } : { defect: 'D-SCRATCH', items: 0 });
  const items = [
    ...Array.from({ length: measured }, () => ({
      measured: perItem.map((one) => ({ characteristic: one.code, ...reading(story, one) })),
    })),
    ...Array.from({ length: chance.items }, () => ({ found: [{ defect: chance.defect }] })),
  ];
  return { conforming: sample!.first - items.length, items };
}

/** As many items as the plan of the barrels asks for. */
const MEASURED_ITEMS = 5;

const CALIBRATED_BY = 'Marlbeck Metrology';

/** Instruments come calibrated; in May the bore gauge turns out to have drifted, and the question what it judged is answered. */
export async function calibrateDay(story: Story, day: number): Promise<void> {
  if (day === 0) {
    for (const instrument of ['VISC-1', 'BAL-2', 'BORE-1', 'THERM-3']) {
      story.clock(at(workday(day), '06:10'));
      await story.as('esme.lab').post(`/api/instruments/${instrument}/calibrations`, {
        asFound: 'in-tolerance',
        result: 'in-tolerance',
        calibratedBy: CALIBRATED_BY,
      });
    }
  }
  if (day === DRIFT_DAY) await findDrift(story, day);
}

const DRIFT_DAY = 47;

async function findDrift(story: Story, day: number): Promise<void> {
  story.clock(at(workday(day), '11:00'));
  const { calibration } = await story.as('esme.lab').post<{ calibration: string }>('/api/instruments/BORE-1/calibrations', {
    asFound: 'out-of-tolerance',
    result: 'adjusted-in-tolerance',
    calibratedBy: CALIBRATED_BY,
    readings: [{ nominal: '40', found: '40.006', tolerance: '0.004' }],
    note: 'reads 0.006 mm high; adjusted',
  });
  story.clock(at(workday(day), '13:30'));
  await story.sign('finn.quality', `/api/instruments/questions/${calibration}/answer`, {
    conclusion: 'no-effect',
    reason: 'every bore it judged stays within its limits when 0.006 mm is taken off',
  });
}
