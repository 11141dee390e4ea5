import type { SpanSet } from '../../../../shared/spans.js';
import type { PlantFact } from '../stock/effects.facts.js';

/** Told apart as in 21 CFR 7.3(g)-(k): stock recovery is only what never left the plant's control. */
export const RECALL_TYPES = ['recall', 'correction', 'market-withdrawal', 'stock-recovery'] as const;
export type RecallType = (typeof RECALL_TYPES)[number];

export const SCOPES = ['narrow', 'conservative'] as const;
/** By recorded pieces, or whole lots as if no changeover had been recorded. */
export type ScopeName = (typeof SCOPES)[number];

/** A part of a lot; spans null for a bulk one, which is affected as a whole. */
export interface ScopePart {
  readonly lot: string;
  readonly spans: SpanSet | null;
}

/** A trace frozen at a ledger position: asked again as known there, it gives the same. */
export interface FrozenScope {
  /** Ledger entry as known at which the scope was traced, when it was recorded, and the chain hash there. */
  readonly asKnownAt: { readonly seq: number; readonly at: string; readonly hash: string };
  /** What it was traced forward from. */
  readonly origin: readonly ScopePart[];
  /** What the report prints that stands in no other entry: kept here, so that it is printed the same years later. */
  readonly printed: { readonly plantName: string; readonly lotPattern: string };
  /** The scope the recall team acts on. */
  readonly chosen: ScopeName;
  /** Everything affected in each scope, the origin included, by lot code. */
  readonly parts: Readonly<Record<ScopeName, readonly ScopePart[]>>;
}

/** A recall, or a drill of one, begins; its scope is frozen. */
export type RecallOpened = PlantFact & {
  readonly kind: 'RecallOpened';
  readonly v: 1;
  readonly recall: string;
  readonly title: string;
  readonly type: RecallType;
  /** Practice: marked as such on every page, and nobody outside is told. */
  readonly drill: boolean;
  /** What is wrong with the product. */
  readonly what: string;
  /** Why it is called back, and how that was found. */
  readonly reason: string;
  readonly hazard?: string | undefined;
  /** What holders of the product are asked to do. */
  readonly instruction?: string | undefined;
  /** Whom holders may ask. */
  readonly contact?: string | undefined;
  readonly scope: FrozenScope;
};

/** The scope of an open recall is traced again, wider or narrower; earlier versions stay readable. */
export type RecallRescoped = PlantFact & {
  readonly kind: 'RecallRescoped';
  readonly v: 1;
  readonly recall: string;
  readonly version: number;
  /** Why only these lots, or why more than before. */
  readonly reason: string;
  readonly scope: FrozenScope;
};
