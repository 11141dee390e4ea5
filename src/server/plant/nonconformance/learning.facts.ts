import type { Signature } from '../people/signature.js';
import type { PlantFact } from '../stock/effects.facts.js';
import type { ReportState } from './states.facts.js';

export const CAUSE_CATEGORIES = [
  'material',
  'method',
  'machine',
  'measurement',
  'people',
  'environment',
  'design',
  'supplier',
  'unknown',
] as const;
export type CauseCategory = (typeof CAUSE_CATEGORIES)[number];

export type CauseAnalysed = PlantFact & {
  readonly kind: 'CauseAnalysed';
  readonly v: 1;
  readonly report: string;
  /** Each answers why the one before it was so. */
  readonly whys: readonly string[];
  readonly categories: readonly CauseCategory[];
  readonly conclusion: string;
};

/** Correction is on the pieces, corrective action on the cause, preventive action on what has not happened yet (ISO 9000:2015 3.12.1 to 3.12.3). */
export const ACTION_KINDS = ['correction', 'corrective', 'preventive'] as const;
export type ActionKind = (typeof ACTION_KINDS)[number];

export type ActionPlanned = PlantFact & {
  readonly kind: 'ActionPlanned';
  readonly v: 1;
  readonly report: string;
  readonly action: number;
  readonly actionKind: ActionKind;
  readonly what: string;
  readonly owner: string;
  readonly dueOn: string;
};

export type ActionDone = PlantFact & {
  readonly kind: 'ActionDone';
  readonly v: 1;
  readonly report: string;
  readonly action: number;
  readonly evidence: string;
  readonly files: readonly string[];
};

export type EffectivenessPlanned = PlantFact & {
  readonly kind: 'EffectivenessPlanned';
  readonly v: 1;
  readonly report: string;
  /** What would show that the cause is gone. */
  readonly criterion: string;
  readonly checkOn: string;
};

/** Decides whether the report closes or is worked on again. */
export type EffectivenessChecked = PlantFact & {
  readonly kind: 'EffectivenessChecked';
  readonly v: 1;
  readonly report: string;
  readonly state: ReportState;
  readonly effective: boolean;
  /** Whether the action did any harm of its own. */
  readonly harm: string;
  readonly evidence: string;
  readonly files: readonly string[];
  readonly reason: string;
  readonly signature: Signature;
};

export const COST_KINDS = ['material', 'labour', 'other'] as const;
export type CostKind = (typeof COST_KINDS)[number];

export type CostRecorded = PlantFact & {
  readonly kind: 'CostRecorded';
  readonly v: 1;
  readonly report: string;
  /** Null: of the report as a whole. */
  readonly disposition: number | null;
  readonly costKind: CostKind;
  /** Whole minor units of the plant's currency. */
  readonly minor: number;
  readonly note: string | null;
};
