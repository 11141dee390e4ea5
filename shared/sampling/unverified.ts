import { type Aql, AQLS } from './aql.js';
import { cell, type Letter, type PlanType, type Severity } from './tables.js';

/**
 * Cells of Table 2-C that nothing readable settles, as a letter and the AQLs from and to. Row B: with a sample of two it must leave the
 * diagonal, and how is taken from row A. C to E: the plans beyond Ac 10 rest on analogy with an older standard. Q and R: no plan is left
 * below, so the arrow must point up. docs/sampling.md says where each figure comes from.
 */
const OPEN_IN_2C: readonly (readonly [letter: Letter, from: Aql, to: Aql])[] = [
  ['B', '15', '1000'],
  ['C', '400', '1000'],
  ['D', '250', '400'],
  ['E', '150', '250'],
  ['Q', '0.025', '0.025'],
  ['R', '0.025', '0.025'],
];

/** Double plans of these Ac differ from those of the older standard, and no readable source prints the new ones. */
const OPEN_PAIRS: ReadonlySet<number> = new Set([3, 7, 8]);

const singleIsOpen = (severity: Severity, letter: Letter, aql: Aql): boolean =>
  severity === 'reduced' &&
  OPEN_IN_2C.some(([row, from, to]) => row === letter && AQLS.indexOf(aql) >= AQLS.indexOf(from) && AQLS.indexOf(aql) <= AQLS.indexOf(to));

function pairIsOpen(severity: Severity, letter: Letter, aql: Aql): boolean {
  const single = cell('single', severity, letter, aql);
  const double = cell('double', severity, letter, aql);
  const isPair = double !== null && typeof double === 'object';
  return isPair && single !== null && typeof single === 'object' && 'ac' in single && OPEN_PAIRS.has(single.ac);
}

/**
 * Why a cell of the tables is not verified by a source that could be read, in a sentence; null when it is.
 * @see docs/sampling.md, which lists these cells
 */
export function whyUnverified(type: PlanType, severity: Severity, letter: Letter, aql: Aql): string | null {
  if (type === 'double' && severity === 'reduced') {
    return 'no readable source prints Table 3-C (double, reduced): its plans follow from Table 2-C and from pairs known for other tables';
  }
  if (type === 'double' && pairIsOpen(severity, letter, aql)) {
    return 'no readable source prints the double plan that goes with Ac 3, 7 or 8: the one shown is remembered and matches the single plan well';
  }
  if (type === 'single' && singleIsOpen(severity, letter, aql)) {
    return `no readable source settles Table 2-C at ${letter}, AQL ${aql}: the figures follow from the structure of the table`;
  }
  return null;
}
