import type { Method } from '../../../../shared/measuring/method.js';
import type { Rounding } from '../../../../shared/measuring/rounding.js';
import type { Aql } from '../../../../shared/sampling/aql.js';
import type { Level } from '../../../../shared/sampling/code-letter.js';
import type { PlanType } from '../../../../shared/sampling/tables.js';

/** Classes of nonconformity, worst first (FAR 46.101). */
export const SEVERITY_CLASSES = ['critical', 'major', 'minor'] as const;
export type SeverityClass = (typeof SEVERITY_CLASSES)[number];

/** A way in which an item can be nonconforming: the plant's own list. */
export interface Defect {
  readonly code: string;
  readonly name: string;
  readonly severity: SeverityClass;
  readonly note?: string | undefined;
}

/** Looked at and judged good or not. */
export interface AttributeCharacteristic {
  readonly code: string;
  readonly name: string;
  readonly kind: 'attribute';
  readonly class: SeverityClass;
  /** Defect that is found when it is not met. */
  readonly defect?: string | undefined;
  /** The written procedure that is followed. */
  readonly procedure?: string | undefined;
}

/** Measured, computed and held against limits. */
export interface MeasuredCharacteristic {
  readonly code: string;
  readonly name: string;
  readonly kind: 'measured';
  /** A test of the lot as a whole, or of each item of the sample. */
  readonly per: 'lot' | 'item';
  readonly class: SeverityClass;
  /** As printed beside the figure: `mPa·s`, `mm`. */
  readonly unit: string;
  /** Millionths of the unit; a value on a limit is within it. */
  readonly lowerMicro?: number | undefined;
  readonly upperMicro?: number | undefined;
  readonly targetMicro?: number | undefined;
  /** Readings that make one result. */
  readonly replicates: number;
  /** How the readings become a value. */
  readonly compute: Method;
  readonly rounding: Rounding;
  /** The written procedure that is followed. */
  readonly procedure?: string | undefined;
  /** Kind of instrument it is measured with, as the register names it. */
  readonly instrumentKind?: string | undefined;
  readonly instrumentRequired: boolean;
  readonly required: boolean;
  /** Per item: how many of the sample are measured; left out: all of them. */
  readonly items?: number | undefined;
}

export type Characteristic = AttributeCharacteristic | MeasuredCharacteristic;

/** How many items are taken and how they are judged, by class. Critical has no AQL: one found is enough. */
export interface Sampling {
  readonly level: Level;
  readonly type: PlanType;
  readonly basis: 'items' | 'nonconformities';
  readonly classes: readonly { readonly class: 'major' | 'minor'; readonly aql: Aql }[];
}

export const PLAN_OCCASIONS = ['delivery', 'run', 'return'] as const;
export type PlanOccasion = (typeof PLAN_OCCASIONS)[number];

/** How an item is inspected. There is one a item, under the item's code. */
export interface InspectionPlan {
  readonly code: string;
  readonly name: string;
  readonly sampling?: Sampling | undefined;
  readonly characteristics: readonly Characteristic[];
  /** When it opens an inspection by itself. */
  readonly occasions: readonly PlanOccasion[];
  readonly note?: string | undefined;
}
