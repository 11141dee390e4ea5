import { Type } from 'class-transformer';
import { ArrayMaxSize, ArrayMinSize, ArrayUnique, IsArray, IsBoolean, IsIn, IsInt, IsOptional, Min, ValidateNested } from 'class-validator';
import { CommandDto } from '../../platform/http/command.dto.js';
import { IsCode, IsPieces, IsPlainText } from '../../platform/http/fields.js';
import { RECALL_TYPES, type RecallType, SCOPES, type ScopeName } from './recall.facts.js';

/** What the recall is traced from: a lot, pieces of it, a serial, a supplier's lot, everything of a run or a shipment. */
export class RecallOriginDto {
  @IsOptional()
  @IsCode()
  lot?: string;

  /** Piece numbers of `lot`, as `5-17,40`. */
  @IsOptional()
  @IsPieces()
  pieces?: string;

  @IsOptional()
  @IsCode()
  serial?: string;

  /** Item of `serial`, where several items have the same one. */
  @IsOptional()
  @IsCode()
  item?: string;

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

  @IsOptional()
  @IsCode()
  shipment?: string;
}

export class RecallScopeDto extends CommandDto {
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(200)
  @ValidateNested({ each: true })
  @Type(() => RecallOriginDto)
  origin: RecallOriginDto[];

  /** Always forward: to everything that holds or may hold the origin. */
  @IsOptional()
  @IsIn(['forward'])
  direction?: 'forward';

  /** The scope to act on: recorded pieces (narrow) or whole lots (conservative). */
  @IsIn(SCOPES)
  scope: ScopeName;

  /** Ledger entry as known at which the scope is frozen; left out: everything recorded. */
  @IsOptional()
  @IsInt()
  @Min(1)
  asKnownAt?: number;

  /** Why it is called back and how that was found; for a new scope: why only these lots, or why more than before. */
  @IsPlainText(4000)
  reason: string;
}

export class OpenRecallDto extends RecallScopeDto {
  @IsPlainText(200)
  title: string;

  /** Stock recovery is only what never left the plant's control. */
  @IsIn(RECALL_TYPES)
  type: RecallType;

  /** True for practice: marked DRILL on every page. */
  @IsBoolean()
  drill: boolean;

  /** What is wrong with the product; left out: the title. */
  @IsOptional()
  @IsPlainText(2000)
  what?: string;

  /** Who may come to harm and how, as far as evaluated. */
  @IsOptional()
  @IsPlainText(4000)
  hazard?: string;

  /** What holders of the product are asked to do. */
  @IsOptional()
  @IsPlainText(4000)
  instruction?: string;

  /** Whom holders may ask. */
  @IsOptional()
  @IsPlainText(500)
  contact?: string;

  /** Nonconformance reports the recall comes from. */
  @IsOptional()
  @IsArray()
  @ArrayMinSize(1)
  @ArrayMaxSize(100)
  @ArrayUnique()
  @IsCode({ each: true })
  reports?: string[];
}

export class RecallPartView {
  lot: string;
  /** `[first, last]` pairs; null for a bulk lot, which is affected as a whole. */
  spans: number[][] | null;
}

export class RecallVersionView {
  version: number;
  /** Ledger entry that froze it. */
  seq: number;
  frozenAt: string;
  frozenBy: string;
  /** Entry as known at which it was traced, and the chain hash there. */
  knownSeq: number;
  knownHash: string;
  chosen: ScopeName;
  /** Why only these lots. */
  reason: string;
  origin: RecallPartView[];
}

/** A recall in a list. */
export class RecallHeadView {
  recall: string;
  title: string;
  type: RecallType;
  drill: boolean;
  /** Open, or closed by two signatures. */
  status: string;
  /** As the strategy has it; null while none is set. */
  class: string | null;
  /** Nonconformance reports it comes from. */
  reports: string[];
  what: string;
  reason: string;
  hazard: string | null;
  instruction: string | null;
  contact: string | null;
  openedAt: string;
  openedBy: string;
  /** Ledger entry that opened it. */
  seq: number;
  /** Versions of its scope, first to latest. */
  scopes: RecallVersionView[];
}

export class RecallAmountView {
  unit: string;
  /** Decimal in the unit; whole for pieces. */
  quantity: string;
}

export class RecallTotalsView {
  lots: number;
  /** Numbered pieces. */
  pieces: number;
  /** Lots that are not numbered, by unit. */
  bulk: RecallAmountView[];
  consignees: number;
}

export class RecallLotView extends RecallPartView {
  item: string;
  itemName: string;
  unit: string;
  pieces: number | null;
  affected: string;
  status: string;
  /** Fewest links from the origin. */
  depth: number;
}

export class RecallNarrowingView {
  lot: string;
  /** Pieces of the lot the narrow scope has; null for a bulk lot that it leaves out altogether. */
  spans: number[][] | null;
  evidence: string[];
}

export class StillOutView {
  spans: number[][] | null;
  quantity: string;
}

export class RecallConsigneeLineView {
  shipment: string;
  shippedOn: string;
  lot: string;
  spans: number[][] | null;
  quantity: string;
  unit: string;
  /** What had not come back when the scope was frozen. */
  out: StillOutView;
  /** What has not come back by now. */
  outNow: StillOutView;
}

export class RecallConsigneeView {
  customer: string;
  name: string;
  contact: string | null;
  lines: RecallConsigneeLineView[];
}

export class RecallPlaceView {
  lot: string;
  fate: string;
  /** Customer, location, run. */
  holder: string;
  /** Shipment or other document. */
  document: string | null;
  spans: number[][] | null;
  quantity: string;
  unit: string;
}

export class RecallAccountView {
  /** `pieces` for numbered lots, else the base unit. */
  unit: string;
  affected: string;
  /** How much of it is on hand, dispatched, consumed and so on. */
  byFate: Record<string, string>;
  /** `affected` less all that is accounted for. */
  difference: string;
}

export class RecallDifferenceView {
  lot: string;
  why: string;
}

/** Affected ∩ whereabouts: sums to what is affected, or says where not and why. */
export class RecallReconciliationView {
  /** As known at this ledger entry. */
  seq: number;
  addsUp: boolean;
  accounts: RecallAccountView[];
  places: RecallPlaceView[];
  differences: RecallDifferenceView[];
}

/** The six amounts asked for in any recall, for goods that leave the plant. */
export class RecallAmountsView {
  unit: string;
  /** All that is affected. */
  total: string;
  madeFrom: string | null;
  madeUntil: string | null;
  /** Sent out, whether or not it came back. */
  distributed: string;
  distributedFrom: string | null;
  distributedUntil: string | null;
  /** Still held by the plant, and how much of that is in quarantine or not accepted. */
  onHand: string;
  onHandQuarantined: string;
  /** Still with customers. */
  inMarket: string;
}

export class RecallView extends RecallHeadView {
  /** The version that the figures below are of. */
  version: number;
  narrow: RecallTotalsView;
  conservative: RecallTotalsView;
  narrowings: RecallNarrowingView[];
  lots: RecallLotView[];
  consignees: RecallConsigneeView[];
  amounts: RecallAmountsView[];
  reconciliation: RecallReconciliationView;
  reconciliationNow: RecallReconciliationView;
}
