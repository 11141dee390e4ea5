import type { InspectionCalledOff } from './inspection.facts.js';

/**
 * Calls off inspections of lots that were booked in error: there is nothing to look at.
 * @see docs/rules/inspection.md IN-36
 */
export const decideCallingOff = (inspections: readonly string[], reason: string): InspectionCalledOff[] =>
  inspections.map((inspection) => ({ kind: 'InspectionCalledOff', v: 1, inspection, reason }));
