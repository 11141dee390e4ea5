import { MICRO, parseQuantity } from '../../../shared/quantity.js';
import { writtenPieces, writtenQuantity } from '../../../shared/written.js';
import type { View } from '../wire/client.js';

export type Run = View<'RunView'>;
export type RunStep = View<'RunStepView'>;
export type RunCharge = View<'RunChargeView'>;
export type Lot = View<'LotView'>;

/** Kinds of runs, in the order of the work. */
export const RUN_KINDS = ['mixing', 'machining', 'treating', 'filling', 'building', 'rework', 'repacking'] as const;
export type RunKind = (typeof RUN_KINDS)[number];

/** A quantity of the wire as people read it: `240 kg`, `753 pieces`. */
export const amount = (text: string, unit: string): string => amountOf(parseQuantity(text), unit);

/** The same from millionths. */
export function amountOf(micro: number, unit: string): string {
  if (unit !== 'each') return writtenQuantity(micro, unit);
  return micro % MICRO === 0 ? writtenPieces(micro / MICRO) : writtenQuantity(micro, 'pieces');
}

/** Whether what a run makes has pieces with numbers; a bulk lot is a quantity. */
export const makesPieces = (run: Run, tracking: string | undefined): boolean =>
  run.yields ? run.yields.pieces !== null : tracking === 'pieces' || tracking === 'serial';
