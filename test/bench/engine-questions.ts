import type { Genealogy } from '../../src/server/trace/genealogy.js';
import { traceForward } from '../../src/server/trace/walk.js';
import type { Plant, PlantLot } from './plant.js';

export interface Question {
  readonly name: string;
  readonly direction: 'forward' | 'backward';
  readonly lot: number;
  /** The piece asked for; null for the whole lot. */
  readonly piece: number | null;
}

const pieces = (genealogy: Genealogy, lot: number): number =>
  traceForward(genealogy, [{ lot, spans: null }]).lots.reduce((sum, reached) => sum + reached.affectedPieces, 0);

/** The questions the targets are set for, found in a plant by their answers. */
export function questionsOf(plant: Plant, genealogy: Genealogy): Question[] {
  const answers = (prefix: string): { lot: PlantLot; count: number }[] =>
    plant.lots.filter(({ code }) => code.startsWith(prefix)).map((lot) => ({ lot, count: pieces(genealogy, lot.id) }));
  const raws = answers('R-');
  const nearest = (count: number): PlantLot | undefined =>
    raws.toSorted((a, b) => Math.abs(Math.log(a.count / count)) - Math.abs(Math.log(b.count / count)))[0]?.lot;
  const widest = (list: { lot: PlantLot; count: number }[]): PlantLot | undefined => list.toSorted((a, b) => b.count - a.count)[0]?.lot;
  const last = (prefix: string): PlantLot | undefined => plant.lots.findLast(({ code }) => code.startsWith(prefix));
  const whole = (name: string, lot: PlantLot | undefined): Question => ({ name, direction: 'forward', lot: lot?.id ?? 0, piece: null });
  const piece = (name: string, lot: PlantLot | undefined): Question => ({
    name,
    direction: 'backward',
    lot: lot?.id ?? 0,
    piece: Math.ceil((lot?.pieces ?? 0) / 2),
  });
  return [
    whole('wide', widest(raws)),
    whole('450k', nearest(450_000)),
    whole('30k', nearest(30_000)),
    whole('comp', widest(answers('C-'))),
    piece('unit', last('U-')),
    piece('can', last('F-')),
  ];
}
