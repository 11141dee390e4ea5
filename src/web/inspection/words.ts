import { writtenCount, writtenPieces } from '../../../shared/written.js';
import type { View } from '../wire/client.js';

type Line = View<'InspectionView'>;

/** Why an inspection was opened, in words. */
export const OCCASIONS: Readonly<Record<string, string>> = {
  delivery: 'delivery',
  run: 'made here',
  return: 'return',
  resubmission: 'presented again',
  request: 'asked for',
};

/** Where an inspection is, as its stamp says it. */
export function stampOf({ state, verdict }: Pick<Line, 'state' | 'verdict'>): string {
  if (state === 'waiting') return 'to begin';
  if (state === 'begun') return 'in progress';
  if (state === 'called-off') return 'called off';
  if (state === 'skipped') return 'skipped';
  return verdict === 'accepted' ? 'accepted' : 'not accepted';
}

/** How big the lot is, in words; a bulk lot whose containers nobody counted has no size. */
export const lotSizeInWords = ({ lotSize, pieces }: Pick<Line, 'lotSize' | 'pieces'>): string =>
  lotSize === null ? 'not counted' : pieces === null ? writtenCount(lotSize) : writtenPieces(lotSize);

/** `1 item`, `80 items`. */
export const writtenItems = (count: number): string => `${writtenCount(count)} ${count === 1 ? 'item' : 'items'}`;

/** Whether a class was decided: inspection may stop, or be stopped, before it is. */
export const isDecided = ({ standing }: Pick<View<'ClassView'>, 'standing'>): boolean =>
  standing === 'accepted' || standing === 'not-accepted';

/** A class that inspection stopped before: how many were looked at, so that nothing found is not taken for nothing there. */
export function undecidedInWords(
  { inspected, sample, secondSample }: Pick<View<'InspectionView'>, 'inspected' | 'sample' | 'secondSample'>,
  { found }: Pick<View<'ClassView'>, 'found'>,
): string {
  const [first = 0, second = 0] = inspected;
  const size = (sample?.first ?? 0) + (secondSample ? (sample?.second ?? 0) : 0);
  const looked = secondSample ? first + second : first;
  const count = (secondSample ? found[1] : found[0]) ?? 0;
  return `${count} found in ${writtenCount(looked)} looked at of ${writtenCount(size)}; not decided`;
}

/** The kind of page a source code leads to: a delivery, a run or a return, by its series. */
export function sourceKind({ occasion }: Pick<Line, 'occasion'>): 'delivery' | 'run' | 'returned' | null {
  if (occasion === 'delivery') return 'delivery';
  if (occasion === 'run') return 'run';
  return occasion === 'return' ? 'returned' : null;
}
