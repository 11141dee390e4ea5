import { MICRO, mulDivMicro, sumMicro } from '../../../../shared/quantity.js';
import type { ComponentBalance, Investigation, MassBalance, NetWeights, YieldFigures } from './run.facts.js';
import { chargedNet, type RunState } from './run-state.facts.js';

const WHOLE_BP = 10_000;

/** What came out of a run, for its figures: millionths of the item's unit, and the pieces refused at the scale. */
export interface CameOut {
  readonly quantityMicro: number;
  readonly rejectedPieces: number;
  readonly netWeights: NetWeights | null;
}

/**
 * Yield against theory, the mass in the cans against the mass charged, and each component against what the pieces need.
 * @see docs/rules/production.md P-30 to P-33
 */
export function yieldFigures(run: RunState, out: CameOut): YieldFigures {
  const components = componentBalances(run, out.quantityMicro);
  const theoryMicro = run.recipe === null ? theoryByBom(run, components) : theoryByMass(run);
  return {
    theoryMicro,
    yieldBp: theoryMicro === null || theoryMicro <= 0 ? null : mulDivMicro(out.quantityMicro, WHOLE_BP, theoryMicro),
    limitsBp: run.recipe?.yieldBp ?? null,
    mass: massBalance(run, out),
    components,
  };
}

const chargedOf = (run: RunState, item: string): number =>
  sumMicro(chargedNet(run.charges).flatMap(({ charge, net }) => (charge.item === item ? [net.quantityMicro] : [])));

const blendedMass = (run: RunState): number => sumMicro(chargedNet(run.charges).map(({ net }) => net.massMicro));

/** All that went in, heel included, in the unit of the batch. */
function theoryByMass(run: RunState): number | null {
  const mass = blendedMass(run);
  if (run.item.unit === 'kg') return mass;
  return run.item.unit === 'L' && run.item.densityMicro !== undefined ? mulDivMicro(mass, MICRO, run.item.densityMicro) : null;
}

/** As many as the scarcest of the measured components allows: bar for barrels, bulk for cans. Counted ones are charged to fit. */
function theoryByBom(run: RunState, components: readonly ComponentBalance[]): number | null {
  const possible = (run.bom?.lines ?? []).flatMap((line) => {
    const charged = components.find((component) => component.item === line.item)?.chargedMicro ?? 0;
    return line.perPieceMicro > 0 && !isCounted(run, line.item) ? [mulDivMicro(charged, MICRO, line.perPieceMicro)] : [];
  });
  return possible.length === 0 ? run.plannedMicro : Math.min(...possible);
}

/** Whether what was charged of an item is whole pieces throughout. */
const isCounted = (run: RunState, item: string): boolean => run.countedItems.includes(item);

const componentBalances = (run: RunState, quantityMicro: number): ComponentBalance[] =>
  (run.bom?.lines ?? []).map((line) => ({
    item: line.item,
    chargedMicro: chargedOf(run, line.item),
    neededMicro: mulDivMicro(quantityMicro, line.perPieceMicro, MICRO),
  }));

/** For cans: what was charged in bulk less what is in all of them, rejected ones included, by their mean or nominal net weight. */
function massBalance(run: RunState, out: CameOut): MassBalance | null {
  const chargedMicro = blendedMass(run);
  const each = out.netWeights?.meanMicro ?? run.item.contentMicro;
  if (run.item.class !== 'filled' || run.item.unit !== 'each' || each === undefined || chargedMicro === 0) return null;
  const pieces = out.quantityMicro / MICRO;
  const filledMicro = pieces * each;
  const lossMicro = chargedMicro - filledMicro;
  return {
    chargedMicro,
    filledMicro,
    rejectedMicro: out.rejectedPieces * each,
    lossMicro,
    lossBp: mulDivMicro(lossMicro, WHOLE_BP, chargedMicro),
    basis: out.netWeights ? 'mean' : 'nominal',
  };
}

const percent = (bp: number): string => `${(bp / 100).toFixed(2)} %`;

/** What of the figures has to be explained before the run is done with. */
export function investigationsOf(figures: YieldFigures): Investigation[] {
  const found: Investigation[] = [];
  const { yieldBp, limitsBp, mass } = figures;
  if (yieldBp !== null && limitsBp !== null && (yieldBp < limitsBp[0] || yieldBp > limitsBp[1])) {
    found.push({
      what: 'yield',
      detail: `the yield is ${percent(yieldBp)} of theory, allowed are ${percent(limitsBp[0])} to ${percent(limitsBp[1])}`,
    });
  }
  if (mass !== null && mass.basis === 'mean' && mass.lossMicro < 0) {
    found.push({ what: 'mass', detail: `the cans hold ${percent(-mass.lossBp)} more than was charged` });
  }
  return found;
}
