import { withPoint } from '../design/decimal-comma.js';
import { MICRO, mulDivMicro, parseQuantity } from '../../../shared/quantity.js';
import type { Run } from './run.js';

const WHOLE_BP = 10_000;

export interface CameOut {
  /** In millionths of the item's unit; pieces are whole ones. */
  readonly quantityMicro: number;
  readonly rejected: number;
  /** Mean net weight found at the scale, in millionths of a kilogram. */
  readonly meanMicro: number | null;
}

export interface OfItem {
  readonly class: string;
  readonly unit: string;
  readonly content: string | null;
  readonly density: string | null;
}

interface ComponentNeed {
  readonly item: string;
  readonly name: string;
  readonly unit: string;
  readonly chargedMicro: number;
  readonly neededMicro: number;
}

export interface ClosingFigures {
  readonly theoryMicro: number | null;
  /** Yield in hundredths of a percent of theory. */
  readonly yieldBp: number | null;
  readonly mass: {
    readonly chargedMicro: number;
    readonly filledMicro: number;
    readonly rejectedMicro: number;
    readonly lossMicro: number;
    readonly lossBp: number;
  } | null;
  readonly components: readonly ComponentNeed[];
}

/**
 * What the record will say of a run that is closed with this, so that it can be looked at before it is done. The server works the figures out
 * again and its are kept. @see docs/rules/production.md P-30 to P-33
 */
export function closingFigures(run: Run, item: OfItem, out: CameOut): ClosingFigures {
  const massMicro = run.charges.reduce((sum, { mass }) => sum + parseQuantity(mass), 0);
  const components = run.components.map(({ item: code, name, unit, charged, perPiece }): ComponentNeed => ({
    item: code,
    name,
    unit,
    chargedMicro: parseQuantity(charged),
    neededMicro: mulDivMicro(out.quantityMicro, parseQuantity(perPiece), MICRO),
  }));
  const theoryMicro = run.recipe === null ? theoryByBom(run) : theoryByMass(massMicro, item);
  return {
    theoryMicro,
    yieldBp: theoryMicro === null || theoryMicro <= 0 ? null : mulDivMicro(out.quantityMicro, WHOLE_BP, theoryMicro),
    mass: massOf(massMicro, item, out),
    components,
  };
}

function theoryByMass(massMicro: number, { unit, density }: OfItem): number | null {
  if (unit === 'kg') return massMicro;
  return unit === 'L' && density !== null ? mulDivMicro(massMicro, MICRO, parseQuantity(density)) : null;
}

/** As many as the scarcest measured component allows; counted ones are charged to fit. */
function theoryByBom(run: Run): number | null {
  const possible = run.components.flatMap(({ unit, charged, perPiece }) =>
    unit === 'each' || parseQuantity(perPiece) <= 0 ? [] : [mulDivMicro(parseQuantity(charged), MICRO, parseQuantity(perPiece))],
  );
  return possible.length > 0 ? Math.min(...possible) : run.planned === null ? null : parseQuantity(run.planned);
}

function massOf(chargedMicro: number, item: OfItem, out: CameOut): ClosingFigures['mass'] {
  const each = out.meanMicro ?? (item.content === null ? null : parseQuantity(item.content));
  if (item.class !== 'filled' || item.unit !== 'each' || each === null || chargedMicro === 0) return null;
  const filledMicro = (out.quantityMicro / MICRO) * each;
  const lossMicro = chargedMicro - filledMicro;
  return {
    chargedMicro,
    filledMicro,
    rejectedMicro: out.rejected * each,
    lossMicro,
    lossBp: mulDivMicro(lossMicro, WHOLE_BP, chargedMicro),
  };
}

interface Weights {
  readonly count: number;
  readonly meanMicro: number;
  readonly sdMicro: number;
  readonly minMicro: number;
  readonly maxMicro: number;
}

/** What a list of net weights comes to, as text or typed from the scale, in kilograms; null where something in it is no number. */
export function weightsOf(text: string): Weights | null {
  const parts = text.split(/[\s;]+/u).filter((part) => part !== '');
  if (parts.length < 2) return null;
  let micros: number[];
  try {
    micros = parts.map((part) => parseQuantity(withPoint(part)));
  } catch {
    return null;
  }
  const mean = micros.reduce((sum, micro) => sum + micro, 0) / micros.length;
  const squares = micros.reduce((sum, micro) => sum + (micro - mean) ** 2, 0);
  return {
    count: micros.length,
    meanMicro: Math.round(mean),
    sdMicro: Math.round(Math.sqrt(squares / (micros.length - 1))),
    minMicro: Math.min(...micros),
    maxMicro: Math.max(...micros),
  };
}

/** What keeps a list of weights from being one, in words for the person; null where it is one, or empty. */
export function weightsFault(text: string): string | null {
  if (text.trim() === '' || weightsOf(text) !== null) return null;
  return 'The weights are at least two numbers with blanks between, as 0.251 0.249';
}

export const percentOfBp = (bp: number): string => `${(bp / 100).toFixed(2)}\u2009%`;
