import type { PlantFact } from '../stock/effects.facts.js';
import type { Residue } from './run.facts.js';

/** What was left in a vessel was taken out of it: scrapped, or put elsewhere. */
export type VesselEmptied = PlantFact & {
  readonly kind: 'VesselEmptied';
  readonly v: 1;
  readonly vessel: string;
  readonly emptiedAt: string;
  /** Null: scrapped. */
  readonly location: string | null;
  readonly reason: string;
};

/** A vessel was cleaned: nothing of what was in it before goes into what comes after. */
export type VesselCleaned = PlantFact & {
  readonly kind: 'VesselCleaned';
  readonly v: 1;
  readonly vessel: string;
  readonly cleanedAt: string;
  readonly method: string;
};

/** A running batch goes on in another vessel. */
export type RunTransferred = PlantFact & {
  readonly kind: 'RunTransferred';
  readonly v: 1;
  readonly run: string;
  readonly leaves: string;
  readonly vessel: string;
  readonly transferredAt: string;
  readonly residues: readonly Residue[];
};

/** A batch, or part of it, was pumped into another vessel; what that vessel held before clings to it. */
export type BatchTransferred = PlantFact & {
  readonly kind: 'BatchTransferred';
  readonly v: 1;
  readonly lot: string;
  readonly leaves: string;
  readonly vessel: string;
  readonly transferredAt: string;
};
