import { MICRO } from '../../../../shared/quantity.js';
import { countPieces, type SpanSet, subtractSpans } from '../../../../shared/spans.js';
import type { Bom, Item, Recipe, Revised } from '../catalogue/catalogue.facts.js';
import type { Changeover, Charge, Residue, RunKind } from './run.facts.js';

/** A charge with what has come back of it. */
export interface ChargeState extends Charge {
  readonly returnedSpans: SpanSet | null;
  readonly returnedMicro: number;
  readonly returnedMassMicro: number;
  readonly seq: number;
}

/** What a vessel holds: a part of a lot that is on hand in it. */
export interface VesselPart {
  readonly lot: string;
  readonly item: string;
  readonly quantityMicro: number;
  readonly spans: SpanSet | null;
}

/** A run as a decision sees it. */
export interface RunState {
  readonly run: string;
  readonly kind: RunKind;
  /** The item being made, at the revision the run keeps. */
  readonly item: Revised<Item>;
  readonly recipe: Revised<Recipe> | null;
  readonly bom: Revised<Bom> | null;
  readonly vessel: string | null;
  readonly line: string | null;
  readonly startedAt: string;
  readonly startedSeq: number;
  readonly plannedMicro: number | null;
  readonly closedSeq: number | null;
  readonly finishedAt: string | null;
  /** The lot it yielded. */
  readonly yields: { readonly lot: string; readonly pieces: number | null } | null;
  readonly charges: readonly ChargeState[];
  readonly changeovers: readonly Changeover[];
  readonly residues: readonly Residue[];
  /** Items among those charged or in the bill of materials that are counted, not measured. */
  readonly countedItems: readonly string[];
  /** Parts replaced in units by this run. */
  readonly replaced: number;
  /** What its vessel holds of earlier batches, not yet charged as heel. */
  readonly heel: readonly VesselPart[];
}

/** A charge less what came back of it. */
export interface NetCharge {
  readonly spans: SpanSet | null;
  readonly quantityMicro: number;
  readonly massMicro: number;
}

export function netOf(charge: ChargeState): NetCharge {
  const spans = charge.spans === null ? null : subtractSpans(charge.spans, charge.returnedSpans ?? []);
  return {
    spans,
    quantityMicro: spans === null ? charge.quantityMicro - charge.returnedMicro : countPieces(spans) * MICRO,
    massMicro: charge.massMicro - charge.returnedMassMicro,
  };
}

/** Charges of which something went in. */
export const chargedNet = (charges: readonly ChargeState[]): { readonly charge: ChargeState; readonly net: NetCharge }[] =>
  charges.map((charge) => ({ charge, net: netOf(charge) })).filter(({ net }) => net.quantityMicro > 0);

/** A charge as it is before anything comes back. */
export const asCharged = (charge: Charge, seq = 0): ChargeState => ({
  ...charge,
  returnedSpans: charge.spans === null ? null : [],
  returnedMicro: 0,
  returnedMassMicro: 0,
  seq,
});
