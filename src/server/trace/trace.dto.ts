import { Transform } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsBoolean, IsIn, IsInt, IsNumber, IsOptional, Max, Min } from 'class-validator';
import { AsNumber, IsCode, IsInstant, IsPieces } from '../platform/http/fields.js';
import { TraceFlowView } from './flow.dto.js';

/** A parameter given once or several times. */
const asList = () => Transform(({ value }: { value: unknown }) => (typeof value === 'string' ? [value] : value));
const asFlag = () => Transform(({ value }: { value: unknown }) => (value === 'true' ? true : value === 'false' ? false : value));

/** What to trace, from where, and as known when. */
export class TraceQueryDto {
  @IsOptional()
  @IsCode()
  lot?: string;

  /** Piece numbers of `lot`, as `5-17,40`. */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  /** More lots, each whole: `lots=B-1&lots=B-2`. */
  @IsOptional()
  @asList()
  @IsArray()
  @ArrayMaxSize(200)
  @IsCode({ each: true })
  lots?: string[];

  @IsOptional()
  @IsCode()
  serial?: string;

  /** Item of `serial`, where several items have the same one. */
  @IsOptional()
  @IsCode()
  item?: string;

  @IsOptional()
  @IsCode()
  shipment?: string;

  /** A supplier's lot code: every lot received under it. */
  @IsOptional()
  @IsCode()
  supplierLot?: string;

  @IsOptional()
  @IsCode()
  supplier?: string;

  @IsOptional()
  @IsCode()
  run?: string;

  /** A vessel: everything made in it between two cleanings. */
  @IsOptional()
  @IsCode()
  vessel?: string;

  /** An instant between the two cleanings; left out: since the last one. */
  @IsOptional()
  @IsInstant()
  at?: string;

  /** A line, with `from` and `to`: everything made on it in that time. */
  @IsOptional()
  @IsCode()
  line?: string;

  /** An instrument: every lot judged by its results, in the time `from` and `to`; without both, since it was last known good. */
  @IsOptional()
  @IsCode()
  instrument?: string;

  @IsOptional()
  @IsInstant()
  from?: string;

  @IsOptional()
  @IsInstant()
  to?: string;

  @IsOptional()
  @IsIn(['forward', 'backward'])
  direction?: 'forward' | 'backward';

  /** Ledger entry as of which to answer. */
  @IsOptional()
  @AsNumber()
  @IsInt()
  @Min(0)
  asKnownAt?: number;

  /** `both` adds the scope of whole lots and the evidence for each narrowing; `conservative` answers everything for that scope alone. */
  @IsOptional()
  @IsIn(['narrow', 'both', 'conservative'])
  scope?: 'narrow' | 'both' | 'conservative';

  /** Adds where every affected part is. */
  @IsOptional()
  @asFlag()
  @IsBoolean()
  whereabouts?: boolean;

  /** Adds `flow`: the links between affected lots and where those are, from which the river is drawn. */
  @IsOptional()
  @asFlag()
  @IsBoolean()
  links?: boolean;

  /** With `links`: also the lots that went into affected ones without being affected. */
  @IsOptional()
  @asFlag()
  @IsBoolean()
  inputs?: boolean;

  /** Follow blending only where the share is at least this (0 to 1); what that leaves out is listed. */
  @IsOptional()
  @AsNumber()
  @IsNumber()
  @Min(0)
  @Max(1)
  shareCutOff?: number;
}

export class TraceOriginView {
  lot: string;
  /** `[first, last]` pairs; null: the whole lot. */
  spans: number[][] | null;
}

export class TracedLotView {
  lot: string;
  item: string;
  class: string;
  unit: string;
  pieces: number | null;
  spans: number[][] | null;
  affectedPieces: number | null;
  affectedQuantity: string;
  share: number | null;
  shares?: number[][];
  depth: number;
}

export class TracedShipmentView {
  shipment: string;
  at: string;
  lot: string;
  spans: number[][] | null;
  quantity: string;
}

export class ConsigneeView {
  customer: string;
  affectedPieces: number;
  shipments: TracedShipmentView[];
}

export class TraceTotalsView {
  lots: number;
  pieces: number;
  consignees: number;
  dispatchedPieces: number;
}

export class AsKnownAtView {
  seq: number;
  at: string | null;
}

export class AffectedPartView {
  lot: string;
  fate: string;
  at: string;
  spans: number[][] | null;
  pieces: number | null;
  quantity: string;
}

export class LinkEvidenceView {
  /** Ledger entry and number of the link within it. */
  link: string;
  from: string;
  fromSpan: number[] | null;
  to: string;
  toSpan: number[] | null;
}

export class NarrowedLotView {
  lot: string;
  keptOut: number[][] | null;
  pieces: number | null;
  evidence: LinkEvidenceView[];
  through: string[];
}

export class ConservativeLotView {
  lot: string;
  spans: number[][] | null;
  affectedPieces: number | null;
  depth: number;
}

export class ConservativeView {
  totals: TraceTotalsView;
  /** Pieces that the narrow scope keeps out. */
  morePieces: number;
  lots: ConservativeLotView[];
  narrowings: NarrowedLotView[];
}

export class LeftOutView {
  lot: string;
  spans: number[][] | null;
  share: number | null;
}

export class WasFittedView {
  lot: string;
  piece: number;
  serial: string | null;
  /** The part that came out. */
  part: string;
  partPiece: number | null;
  /** The part that went in. */
  replacedBy: string;
  at: string;
  reason: string;
}

export class TakenPartView {
  lot: string;
  spans: number[][] | null;
  quantity: string;
}

export class InProcessView {
  run: string;
  kind: string;
  place: string | null;
  startedAt: string;
  took: TakenPartView[];
}

export class TraceView {
  direction: 'forward' | 'backward';
  asKnownAt: AsKnownAtView;
  origin: TraceOriginView[];
  lots: TracedLotView[];
  consignees: ConsigneeView[];
  totals: TraceTotalsView;
  /** Forward: units fitted with an affected part that was replaced since. */
  wasFitted: WasFittedView[];
  /** Forward: runs still under way with affected material. */
  inProcess: InProcessView[];
  conservative?: ConservativeView;
  whereabouts?: AffectedPartView[];
  flow?: TraceFlowView;
  leftOut?: LeftOutView[];
}
