import type { PlanStep } from './plan.js';
import type { PlanType, Severity } from './tables.js';

const TABLES = {
  single: { normal: '2-A', tightened: '2-B', reduced: '2-C' },
  double: { normal: '3-A', tightened: '3-B', reduced: '3-C' },
} as const;

/** The number of a table in the standard. */
export const tableName = (type: PlanType, severity: Severity): string => TABLES[type][severity];

/** A step on the way to a plan, as a sentence. */
export function stepInWords({ from, direction, to }: PlanStep, type: PlanType, severity: Severity): string {
  const table = tableName(type, severity);
  if (direction === 'single') return `Table ${table} has an asterisk at ${to}: the single plan is used there`;
  const side = direction === 'up' ? 'above' : 'below';
  return `Table ${table} has an arrow ${direction} at ${from}: the first plan ${side} it is that of letter ${to}`;
}
