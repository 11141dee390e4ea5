import { Reasons } from '../../../../shared/refusal.js';
import { coversSpans } from '../../../../shared/spans.js';
import type { AttributeCharacteristic, Defect, MeasuredCharacteristic, SeverityClass } from '../catalogue/inspection-plan.facts.js';
import { checkFiles } from '../files/files.decide.js';
import type { FoundNonconformity, InspectedItem, ItemsInspected, TallyTakenBack } from './inspection.facts.js';
import type { InspectionState } from './inspection-state.facts.js';
import { judge } from './judge.decide.js';
import { type AskedMeasurement, type MeasuringState, measure } from './measure.decide.js';

/** A nonconformity as the inspector names it: by defect code, or by an attribute characteristic of the plan. */
interface AskedNonconformity {
  readonly defect?: string | undefined;
  readonly characteristic?: string | undefined;
  readonly count: number;
  /** A class other than the defect's own: only a worse one. */
  readonly class?: SeverityClass | undefined;
}

export interface AskedItem {
  readonly piece?: number | undefined;
  readonly found: readonly AskedNonconformity[];
  readonly measured: readonly AskedMeasurement[];
  readonly files: readonly string[];
  readonly note?: string | undefined;
}

export interface Tally {
  readonly sample: 1 | 2;
  readonly conforming: number;
  readonly items: readonly AskedItem[];
}

interface TallyState extends MeasuringState {
  readonly inspection: InspectionState;
  readonly defects: ReadonlyMap<string, Defect>;
  readonly knownFiles: ReadonlySet<string>;
}

/**
 * Writes down items of the sample that one inspector looked at. What others wrote down stands beside it, so nothing is lost when two
 * work on one lot; more than the sample is refused.
 * @throws Refusal with every fault of every item
 * @see docs/rules/inspection.md IN-7 to IN-9
 */
export function decideTally(command: Tally, state: TallyState): ItemsInspected {
  const no = new Reasons();
  checkOpen(no, state.inspection);
  checkSize(no, command, state.inspection);
  checkPieces(no, command, state.inspection);
  const items = command.items.map((item, i) => inspectedItem(no, item, state, `/items/${i}`));
  no.throwIfAny();
  return {
    kind: 'ItemsInspected',
    v: 1,
    inspection: state.inspection.inspection,
    tally: state.inspection.talliesEver + 1,
    sample: command.sample,
    conforming: command.conforming,
    items,
  };
}

/** Refuses what an inspection that is not under way cannot take. */
export function checkOpen(no: Reasons, inspection: InspectionState): void {
  if (inspection.state === 'begun') return;
  const why =
    inspection.state === 'waiting'
      ? 'has not begun: begin it, so that the plan is fixed first'
      : `is ${inspection.state.replace('-', ' ')}`;
  no.conflict('inspection-not-open', `${inspection.inspection} ${why}`, { inspection: inspection.inspection, state: inspection.state });
  no.throwIfAny();
}

function checkSize(no: Reasons, command: Tally, inspection: InspectionState): void {
  const { sample } = inspection;
  if (sample === null) {
    no.conflict('no-sample-here', `${inspection.inspection} only tests the lot: its plan has no sample of items`);
    return;
  }
  const now = command.conforming + command.items.length;
  if (now === 0) no.malformed('nothing-inspected', 'name at least one item', { pointer: '/conforming' });
  const standing = judge({ ...inspection, characteristics: inspection.plan.characteristics });
  if (command.sample === 2 && (sample.sizes[1] === null || !standing.secondSample)) {
    const why = sample.sizes[1] === null ? 'the plan is single' : 'the first sample decides so far';
    no.conflict('no-second-sample', `no second sample: ${why}`, { pointer: '/sample' });
    return;
  }
  const size = sample.sizes[command.sample - 1]!;
  const left = size - standing.inspected[command.sample - 1]!;
  if (now > left) {
    no.conflict('more-than-sample', `the sample has ${size} items, ${left} of them not yet inspected; ${now} given`, {
      pointer: '/conforming',
      left,
    });
  }
}

/** A piece is looked at once in an inspection, and belongs to what is inspected. */
function checkPieces(no: Reasons, command: Tally, inspection: InspectionState): void {
  const seen = new Set(inspection.tallies.flatMap((tally) => tally.items.flatMap((item) => item.piece ?? [])));
  command.items.forEach(({ piece }, i) => {
    if (piece === undefined) return;
    const pointer = `/items/${i}/piece`;
    if (inspection.spans === null) no.conflict('no-pieces-here', `${inspection.lot} is bulk and has no pieces`, { pointer });
    else if (!coversSpans(inspection.spans, [[piece, piece]]))
      no.conflict('pieces-outside-lot', `piece ${piece} is not among those inspected`, { pointer });
    else if (seen.has(piece)) no.conflict('piece-inspected-twice', `piece ${piece} is written down already`, { pointer });
    seen.add(piece);
  });
}

function inspectedItem(no: Reasons, asked: AskedItem, state: TallyState, pointer: string): InspectedItem {
  const plan = state.inspection.plan;
  const per = plan.characteristics.filter((one): one is MeasuredCharacteristic => one.kind === 'measured' && one.per === 'item');
  const measured = asked.measured.map((one, k) => {
    const characteristic = per.find((of) => of.code === one.characteristic);
    if (characteristic) return { characteristic, result: measure(no, one, characteristic, state, `${pointer}/measured/${k}`) };
    no.unknown('characteristic-unknown', `the plan measures no ${one.characteristic} on each item`, {
      pointer: `${pointer}/measured/${k}/characteristic`,
    });
    return null;
  });
  checkFiles(no, asked.files, state.knownFiles, `${pointer}/files`);
  if (asked.found.length === 0 && asked.measured.length === 0) {
    no.malformed('item-says-nothing', 'an item that is written down was measured or is nonconforming', { pointer });
  }
  const found = asked.found.map((one, k) => foundOf(no, one, state, `${pointer}/found/${k}`));
  const outside = measured.flatMap((one): FoundNonconformity[] =>
    one?.result && !one.result.within
      ? [{ defect: null, characteristic: one.characteristic.code, class: one.characteristic.class, count: 1 }]
      : [],
  );
  return {
    piece: asked.piece ?? null,
    found: [...found.filter((one) => one !== null), ...outside],
    measured: measured.flatMap((one) => one?.result ?? []),
    files: asked.files,
    note: asked.note ?? null,
  };
}

const WORSE: readonly SeverityClass[] = ['minor', 'major', 'critical'];

function foundOf(no: Reasons, asked: AskedNonconformity, state: TallyState, pointer: string): FoundNonconformity | null {
  const attribute = state.inspection.plan.characteristics.find(
    (one): one is AttributeCharacteristic => one.kind === 'attribute' && one.code === asked.characteristic,
  );
  if (asked.characteristic !== undefined && !attribute) {
    no.unknown('characteristic-unknown', `the plan has no attribute ${asked.characteristic}`, { pointer: `${pointer}/characteristic` });
    return null;
  }
  const code = asked.defect ?? attribute?.defect;
  const defect = code === undefined ? undefined : state.defects.get(code);
  if (code !== undefined && !defect) {
    no.unknown('defect-unknown', `no defect ${code} on the plant's list`, { pointer: `${pointer}/defect` });
    return null;
  }
  if (!defect && !attribute) {
    no.malformed('defect-missing', 'say what was found: a defect, or a characteristic of the plan', { pointer });
    return null;
  }
  // The defect may have been graded worse since the plan was written.
  const own = WORSE.findLast((of) => of === attribute?.class || of === defect?.severity)!;
  if (asked.class !== undefined && WORSE.indexOf(asked.class) < WORSE.indexOf(own)) {
    no.conflict('class-laxer', `${code ?? asked.characteristic} is ${own}: it can be judged worse, not milder`, {
      pointer: `${pointer}/class`,
    });
  }
  return { defect: code ?? null, characteristic: asked.characteristic ?? null, class: asked.class ?? own, count: asked.count };
}

/** @see docs/rules/inspection.md IN-9 */
export function decideTakeTallyBack(
  command: { readonly tally: number; readonly reason: string },
  inspection: InspectionState,
): TallyTakenBack {
  const no = new Reasons();
  checkOpen(no, inspection);
  if (!inspection.tallies.some((one) => one.tally === command.tally)) {
    const before = command.tally >= 1 && command.tally <= inspection.talliesEver;
    if (before) no.conflict('tally-taken-back', `tally ${command.tally} of ${inspection.inspection} is taken back already`);
    else no.unknown('tally-unknown', `${inspection.inspection} has no tally ${command.tally}`);
  }
  no.throwIfAny();
  return { kind: 'TallyTakenBack', v: 1, inspection: inspection.inspection, ...command };
}
