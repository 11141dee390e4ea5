import type { Span, SpanSet } from '../../../../shared/spans.js';
import type { PieceMap, PlantFact } from '../stock/effects.facts.js';

export const RUN_KINDS = ['mixing', 'machining', 'treating', 'filling', 'building', 'rework', 'repacking'] as const;
export type RunKind = (typeof RUN_KINDS)[number];

/** The line or vessel was looked over for the previous product, its labels and materials (21 CFR 211.130(e)). */
export interface Clearance {
  readonly checkedBy: string;
  readonly note?: string | undefined;
}

/** What the product made in this run says on its label (21 CFR 820.120(d)). */
export interface RunLabel {
  readonly text: string;
  readonly code?: string | undefined;
}

/** A lot that stood in the vessel before and whose traces are still in it: emptied, not cleaned. */
export interface Residue {
  readonly lot: string;
  /** The vessel it clings to. */
  readonly vessel: string;
}

/** A making step begins. */
export type RunStarted = PlantFact & {
  readonly kind: 'RunStarted';
  readonly v: 1;
  readonly run: string;
  readonly runKind: RunKind;
  /** What is to be made, or reworked, at which revision of the catalogue. */
  readonly item: string;
  readonly itemRevision: number;
  readonly recipe: string | null;
  readonly recipeRevision: number | null;
  readonly bom: string | null;
  readonly bomRevision: number | null;
  readonly vessel: string | null;
  readonly line: string | null;
  readonly people: readonly string[];
  readonly startedAt: string;
  /** Planned quantity in millionths of the item's unit. */
  readonly plannedMicro: number | null;
  readonly clearance: Clearance | null;
  readonly label: RunLabel | null;
  readonly note?: string | undefined;
  readonly residues: readonly Residue[];
};

/** Where charged pieces went within the numbered lot being made. `fromSpan` null: a bulk lot. */
export interface Into {
  readonly fromSpan: Span | null;
  readonly toSpan: Span;
  readonly map: PieceMap;
}

type DeviationKind = 'order' | 'step-short' | 'above-tolerance' | 'mixing-time' | 'not-in-recipe' | 'not-in-bom' | 'heel-of-other-item';

/** Something done otherwise than the recipe says; it stands only together with a reason. */
export interface Deviation {
  readonly what: DeviationKind;
  readonly detail: string;
}

/** The quantity as it was given, where it had to be converted, with the factor used (21 CFR 1.1345(a)(2)). */
export interface Conversion {
  readonly givenMicro: number;
  readonly givenUnit: 'kg' | 'L';
  /** Millionths of a kilogram per litre, by the item's revision of that moment. */
  readonly densityMicro: number;
}

/** What was charged: a part of one lot, at one time. */
export interface Charge {
  /** Number of the charge within its run, counted from 1. */
  readonly charge: number;
  /** Step of the recipe, counted from 1; null for what is not in it. */
  readonly step: number | null;
  readonly lot: string;
  readonly item: string;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  /** Mass that blends, in millionths of a kilogram by the factors of that moment; 0 for what does not blend. */
  readonly massMicro: number;
  readonly chargedAt: string;
  readonly by: string;
  /** True for what a vessel still held of an earlier batch. */
  readonly heel: boolean;
  readonly into: readonly Into[];
  readonly deviations: readonly Deviation[];
  readonly deviationReason: string | null;
  /** Urgent releases this charge leant on. */
  readonly urgentReleases: readonly string[];
  readonly conversion: Conversion | null;
  /** Where it was taken from, first place by code. */
  readonly takenFrom: string;
}

/** Material goes into a run. */
export type RunCharged = PlantFact & {
  readonly kind: 'RunCharged';
  readonly v: 1;
  readonly run: string;
  readonly charges: readonly Charge[];
  readonly changeovers: readonly Changeover[];
};

/** What came back of a charge, unused. */
export interface ChargeReturn {
  readonly charge: number;
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  readonly massMicro: number;
  readonly deliveredTo: string;
}

/** Material charged and not used goes back to stock, or a charge recorded in error is taken back. */
export type RunUncharged = PlantFact & {
  readonly kind: 'RunUncharged';
  readonly v: 1;
  readonly run: string;
  readonly returns: readonly ChargeReturn[];
  readonly reason: string;
};

/** From this piece of the lot being made on, the component came from this lot. */
export interface Changeover {
  readonly item: string;
  readonly lot: string;
  readonly fromPiece: number;
  readonly changedAt: string;
}

export type ChangeoverRecorded = PlantFact & {
  readonly kind: 'ChangeoverRecorded';
  readonly v: 1;
  readonly run: string;
  readonly changeovers: readonly Changeover[];
};

/** Net weights found at the scale, in millionths of a kilogram. */
export interface NetWeights {
  readonly count: number;
  readonly meanMicro: number;
  readonly sdMicro: number;
  readonly minMicro: number;
  readonly maxMicro: number;
}

/** What went into the filling against what is in the cans, in millionths of a kilogram. */
export interface MassBalance {
  readonly chargedMicro: number;
  readonly filledMicro: number;
  readonly rejectedMicro: number;
  /** Charged less filled: negative when the cans hold more than was charged. */
  readonly lossMicro: number;
  /** Loss in hundredths of a percent of what was charged. */
  readonly lossBp: number;
  readonly basis: 'mean' | 'nominal';
}

/** What was charged of a component against what the pieces need by the bill of materials, in millionths of its unit. */
export interface ComponentBalance {
  readonly item: string;
  readonly chargedMicro: number;
  readonly neededMicro: number;
}

export interface YieldFigures {
  /** What should have come out, in millionths of the item's unit; null where nothing says. */
  readonly theoryMicro: number | null;
  /** Actual in hundredths of a percent of theory. */
  readonly yieldBp: number | null;
  readonly limitsBp: readonly [low: number, high: number] | null;
  readonly mass: MassBalance | null;
  readonly components: readonly ComponentBalance[];
}

/** Something the closing found that has to be explained (21 CFR 211.192). */
export interface Investigation {
  readonly what: 'yield' | 'mass';
  readonly detail: string;
}

/** The run is over: what it yielded is born in quarantine, and every link into it is recorded. */
export type RunClosed = PlantFact & {
  readonly kind: 'RunClosed';
  readonly v: 1;
  readonly run: string;
  readonly finishedAt: string;
  /** The lot it yielded; null for a rework that replaced parts, or a run that yielded nothing. */
  readonly yields: string | null;
  readonly location: string | null;
  readonly rejected: SpanSet;
  readonly rejectReason: string | null;
  readonly netWeights: NetWeights | null;
  readonly figures: YieldFigures;
  readonly investigations: readonly Investigation[];
  readonly deviations: readonly Deviation[];
  readonly deviationReason: string | null;
  readonly changeovers: readonly Changeover[];
  /** Pieces fitted one by one, told at closing, by the number of the charge they came from. */
  readonly fitted: readonly { readonly charge: number; readonly into: readonly Into[] }[];
  /** Components with several lots and no changeover recorded: any piece may hold any of them. */
  readonly unsure: readonly string[];
  readonly note?: string | undefined;
};

/** A yield outside its limits is explained. */
export type YieldInvestigated = PlantFact & {
  readonly kind: 'YieldInvestigated';
  readonly v: 1;
  readonly run: string;
  readonly what: Investigation['what'];
  readonly explanation: string;
};

/** The record of a closed run is put right: material put back or taken late, changeovers given anew, links voided and made. */
export type RunCorrected = PlantFact & {
  readonly kind: 'RunCorrected';
  readonly v: 1;
  readonly run: string;
  /** Ledger entry that is put right. */
  readonly corrects: number;
  readonly reason: string;
  readonly returns: readonly ChargeReturn[];
  readonly charges: readonly Charge[];
  /** All changeovers of the run as they are now known; null: unchanged. */
  readonly changeovers: readonly Changeover[] | null;
};

/** Links voided or recorded late by hand, with the quantities put back or taken. */
export type LinksCorrected = PlantFact & {
  readonly kind: 'LinksCorrected';
  readonly v: 1;
  readonly run: string;
  readonly corrects: number | null;
  readonly reason: string;
};
