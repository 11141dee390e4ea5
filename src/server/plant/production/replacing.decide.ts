import { formatQuantity, MICRO, sumMicro } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { coversSpans, type SpanSet } from '../../../../shared/spans.js';
import type { Bom } from '../catalogue/catalogue.facts.js';
import type { LinkGroup, Movement, StatusChange } from '../stock/effects.facts.js';
import { type LotState, heldAt } from '../stock/lot-state.facts.js';
import { settlePart } from '../stock/part.decide.js';
import { takeOnHand } from '../stock/take.decide.js';
import { checkUsable } from '../stock/usable.decide.js';
import { checkOpen } from './charging.decide.js';
import type { PartReplaced, PartUsed } from './replacing.facts.js';
import type { RunState } from './run-state.facts.js';

/** A part, by its lot and, of a numbered lot, its piece. */
export interface AskPart {
  readonly lot: string;
  readonly piece?: number | undefined;
  readonly quantityMicro?: number | undefined;
}

interface ReplacePart {
  readonly unit: { readonly lot: string; readonly piece: number; readonly serial: string | null };
  readonly removed: AskPart;
  readonly fitted: AskPart;
  readonly replacedAt: string;
  readonly reason: string;
  /** Where the old part goes; left out: scrapped. */
  readonly location?: string | undefined;
}

/** A part that is in a unit now: what the links say, less what was replaced. */
export interface FittedPart {
  readonly lot: string;
  /** Null for a bulk lot, or where the record cannot tell the piece. */
  readonly piece: number | null;
  /** The run that consumed it. */
  readonly run: string;
  readonly item: string;
  /** Of a bulk lot: the unit's share of what was taken, in millionths; 0 for a numbered part. */
  readonly shareMicro: number;
}

interface ReplacingState {
  readonly at: string;
  readonly run: RunState;
  readonly lots: ReadonlyMap<string, LotState>;
  readonly inUnit: readonly FittedPart[];
  /** What was taken out of the unit before of each item's bulk lots, in millionths. */
  readonly takenMicro: ReadonlyMap<string, number>;
  /** Bills of materials of the unit's item, as they stand. */
  readonly boms: readonly Bom[];
  readonly locationKnown: boolean;
  /** Open nonconformance reports that affect the unit and have not decided on reworking it. */
  readonly undecided: readonly string[];
}

/**
 * Replaces a part in a unit. The link of the old part stays as it was: the unit was fitted with it until then. The unit goes back into
 * quarantine, for it is not the unit that was released.
 * @see docs/rules/production.md P-40 to P-47
 */
export function decideReplace(command: ReplacePart, state: ReplacingState): PartReplaced {
  const no = new Reasons();
  checkOpen(no, state.run);
  if (state.run.kind !== 'rework')
    no.conflict('not-rework', `${state.run.run} is a ${state.run.kind} run: parts are replaced in a rework run`);
  checkTime(no, command, state);
  const unit = state.lots.get(command.unit.lot)!;
  const old = state.lots.get(command.removed.lot);
  const fresh = state.lots.get(command.fitted.lot);
  if (!old) no.unknown('lot-unknown', `no lot ${command.removed.lot}`, { pointer: '/removed/lot' });
  if (!fresh) no.unknown('lot-unknown', `no lot ${command.fitted.lot}`, { pointer: '/fitted/lot' });
  checkUnit(no, command, unit);
  for (const report of state.undecided) {
    const detail = `${report} affects piece ${command.unit.piece} of ${command.unit.lot}, and has no signed rework or repair of it`;
    no.conflict('rework-not-decided', detail, { pointer: '/unit', lot: command.unit.lot, report });
  }
  no.throwIfAny();
  const removed = settle(no, old!, command.removed, '/removed');
  const fitted = settle(no, fresh!, command.fitted, '/fitted');
  no.throwIfAny();
  const source = findFitted(no, removed!, command, state);
  checkItem(no, removed!.item, fitted!.item, unit, state.boms);
  if (source && removed!.piece === null) checkShare(no, removed!, old!, state);
  const use = { spans: spansOf(fitted!), quantityMicro: fitted!.quantityMicro, on: command.replacedAt.slice(0, 10), rework: true };
  const urgentReleases = checkUsable(no, fresh!, use);
  if (command.replacedAt < fresh!.bornAt)
    no.conflict('used-before-made', `${fresh!.lot} came into being at ${fresh!.bornAt}, after that`, { pointer: '/at' });
  const out = takenOut(no, removed!, old!, source, command, state);
  no.throwIfAny();
  return {
    kind: 'PartReplaced',
    v: 1,
    run: state.run.run,
    unit: command.unit,
    removed: removed!,
    fitted: fitted!,
    replacedAt: command.replacedAt,
    reason: command.reason,
    location: command.location ?? null,
    urgentReleases,
    moved: [...takeOnHand(fresh!, use, { fate: 'consumed', at: state.run.run }), ...out.moved],
    restatused: [...intoQuarantine(command.unit.lot, [[command.unit.piece, command.unit.piece]]), ...out.restatused],
    linked: [linkOf(command, state.run.run, fitted!)],
  };
}

const spansOf = (part: PartUsed): SpanSet | null => (part.piece === null ? null : [[part.piece, part.piece]]);
const intoQuarantine = (lot: string, spans: SpanSet): StatusChange[] => [{ lot, spans, status: 'quarantine' }];

function checkTime(no: Reasons, command: ReplacePart, { run, at }: ReplacingState): void {
  if (command.replacedAt > at) no.conflict('not-yet', `${command.replacedAt} is still to come`, { pointer: '/at' });
  if (command.replacedAt < run.startedAt)
    no.conflict('before-start', `${run.run} began at ${run.startedAt}, after that`, { pointer: '/at' });
}

function checkUnit(no: Reasons, { unit }: ReplacePart, lot: LotState): void {
  const here = heldAt(lot, 'on-hand').spans ?? [];
  if (coversSpans(here, [[unit.piece, unit.piece]])) return;
  no.conflict('unit-not-here', `piece ${unit.piece} of ${lot.lot} is not on hand: book it back before it is reworked`, { lot: lot.lot });
}

function settle(no: Reasons, lot: LotState, asked: AskPart, pointer: string): PartUsed | null {
  const spans: SpanSet | undefined = asked.piece === undefined ? undefined : [[asked.piece, asked.piece]];
  const quantityMicro = lot.pieces === null ? (asked.quantityMicro ?? (lot.unit === 'each' ? MICRO : undefined)) : undefined;
  const part = settlePart(no, lot, { spans, quantityMicro }, pointer);
  return part && { lot: lot.lot, item: lot.item, piece: asked.piece ?? null, quantityMicro: part.quantityMicro };
}

function findFitted(no: Reasons, removed: PartUsed, command: ReplacePart, { inUnit }: ReplacingState): FittedPart | undefined {
  const found = inUnit.find((part) => part.lot === removed.lot && (part.piece === null || part.piece === removed.piece));
  if (!found) {
    const which = removed.piece === null ? removed.lot : `piece ${removed.piece} of ${removed.lot}`;
    no.conflict('not-in-unit', `${which} is not in unit ${command.unit.serial ?? command.unit.piece}`, { pointer: '/removed' });
  }
  return found;
}

/** A unit stays what it was designed as: another item goes in only where its bill of materials now has that one instead (P-46). */
function checkItem(no: Reasons, removed: string, fitted: string, unit: LotState, boms: readonly Bom[]): void {
  const has = (bom: Bom, item: string): boolean => bom.lines.some((line) => line.item === item);
  if (fitted === removed || boms.some((bom) => has(bom, fitted) && !has(bom, removed))) return;
  const bills = boms.map(({ code }) => code).join(', ');
  const why = bills === '' ? `no bill of materials of ${unit.item} puts it there instead` : `${bills} does not put it there instead`;
  no.conflict('other-item', `${fitted} cannot go in where ${removed} comes out: ${why}`, { pointer: '/fitted', bills });
}

/** No more of an item's bulk lots comes out than the unit has of them, over all lots: which of several is in it, the record may not tell. */
function checkShare(no: Reasons, removed: PartUsed, old: LotState, { inUnit, takenMicro }: ReplacingState): void {
  const had = sumMicro(inUnit.filter((part) => part.item === removed.item && part.piece === null).map((part) => part.shareMicro));
  const left = had - (takenMicro.get(removed.item) ?? 0);
  const most = old.unit === 'each' ? Math.ceil(left / MICRO) * MICRO : left;
  if (removed.quantityMicro <= most) return;
  const detail = `the unit has ${formatQuantity(Math.max(most, 0))} ${old.unit} of ${removed.item}, ${formatQuantity(removed.quantityMicro)} cannot come out`;
  no.conflict('more-than-in-unit', detail, { pointer: '/removed/quantity' });
}

/** The old part was consumed by the run that built it in; now it is scrapped, or stands apart in quarantine. */
function takenOut(
  no: Reasons,
  removed: PartUsed,
  old: LotState,
  source: FittedPart | undefined,
  command: ReplacePart,
  state: ReplacingState,
): { moved: Movement[]; restatused: StatusChange[] } {
  if (!source) return { moved: [], restatused: [] };
  if (command.location !== undefined && !state.locationKnown)
    no.unknown('location-unknown', `no location ${command.location}`, { pointer: '/location' });
  if (command.location !== undefined && removed.piece === null) {
    no.conflict('part-not-kept-apart', `a used part of ${old.lot} cannot go back among the unused: scrap it`, { pointer: '/location' });
  }
  const there = heldAt(old, 'consumed', source.run);
  const spans = spansOf(removed);
  if (there.quantityMicro < removed.quantityMicro || (spans !== null && !coversSpans(there.spans ?? [], spans))) {
    no.conflict('not-consumed', `${source.run} has not that much of ${old.lot}`, { pointer: '/removed' });
  }
  const to =
    command.location === undefined
      ? ({ fate: 'scrapped', at: state.run.run } as const)
      : ({ fate: 'on-hand', at: command.location } as const);
  return {
    moved: [{ lot: old.lot, spans, quantityMicro: removed.quantityMicro, from: { fate: 'consumed', at: source.run }, to }],
    restatused: command.location === undefined || spans === null ? [] : intoQuarantine(old.lot, spans),
  };
}

function linkOf(command: ReplacePart, run: string, fitted: PartUsed): LinkGroup {
  const { lot, piece } = command.unit;
  return {
    run,
    kind: 'rework',
    at: command.replacedAt,
    links: [
      {
        from: fitted.lot,
        fromSpan: fitted.piece === null ? null : [fitted.piece, fitted.piece],
        to: lot,
        toSpan: [piece, piece],
        quantityMicro: fitted.quantityMicro,
        massMicro: 0,
        map: fitted.piece === null ? 'all' : 'each',
      },
    ],
  };
}
