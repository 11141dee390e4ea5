/** A recipe step and how far it is. */
export class RunStepView {
  step: number;
  item: string;
  name: string;
  unit: string;
  target: string;
  low: string;
  high: string;
  /** Shortest mixing time after it, in minutes. */
  mixMinutes: number;
  charged: string;
  /** Still to be charged to reach the target; "0" once it is reached. */
  left: string;
}

export class RunComponentView {
  item: string;
  name: string;
  unit: string;
  perPiece: string;
  trackedBy: string;
  charged: string;
}

export class DeviationView {
  what: string;
  detail: string;
}

export class ConversionView {
  given: string;
  givenUnit: string;
  /** kg per L, as it was at that moment. */
  density: string;
}

export class IntoView {
  /** Null for a bulk lot. */
  fromPieces: string | null;
  intoPieces: string;
  map: string;
}

export class RunChargeView {
  charge: number;
  step: number | null;
  lot: string;
  item: string;
  name: string;
  supplier: string | null;
  supplierLot: string | null;
  /** Pieces that went in, less what came back; null for a bulk lot. */
  pieces: string | null;
  /** What went in, less what came back. */
  quantity: string;
  unit: string;
  returned: string;
  /** Mass in kg that blends; "0" for what does not. */
  mass: string;
  chargedAt: string;
  by: string;
  heel: boolean;
  into: IntoView[];
  deviations: DeviationView[];
  deviationReason: string | null;
  urgentReleases: string[];
  conversion: ConversionView | null;
  seq: number;
}

export class RunChangeoverView {
  item: string;
  lot: string;
  fromPiece: number;
  changedAt: string;
}

export class ReplacementView {
  unitLot: string;
  unitPiece: number;
  unitSerial: string | null;
  item: string;
  oldLot: string;
  oldPiece: number | null;
  oldSerial: string | null;
  /** How much of the old lot was taken out, in its unit. */
  oldQuantity: string;
  newLot: string;
  newPiece: number | null;
  newSerial: string | null;
  at: string;
  by: string;
  reason: string;
  /** Where the old part went; null: scrapped. */
  location: string | null;
  run: string;
  seq: number;
}

/** A status the lot, or pieces of it, took: when, by whom, by which entry. */
export class AcceptanceView {
  status: string;
  pieces: string | null;
  at: string;
  by: string;
  seq: number;
}

export class RunYieldView {
  lot: string;
  item: string;
  name: string;
  gtin: string | null;
  quantity: string;
  unit: string;
  pieces: number | null;
  serials: string[];
  /** Where it was when it was made. */
  place: string | null;
  finishedAt: string;
  madeOn: string | null;
  expiresOn: string | null;
  released: string;
  acceptance: AcceptanceView[];
}

export class NetWeightsView {
  count: number;
  mean: string;
  sd: string;
  min: string;
  max: string;
}

/** Bulk charged against what is in the cans, in kg. */
export class MassBalanceView {
  charged: string;
  filled: string;
  rejected: string;
  loss: string;
  /** Loss in percent of what was charged, with two decimals. */
  lossPercent: string;
  /** `mean`: by the weights found; `nominal`: by the item's content. */
  basis: string;
}

export class ComponentBalanceView {
  item: string;
  charged: string;
  needed: string;
  over: string;
}

export class RunResultView {
  rejected: string | null;
  rejectReason: string | null;
  netWeights: NetWeightsView | null;
  theory: string | null;
  yieldPercent: string | null;
  yieldLimits: string | null;
  mass: MassBalanceView | null;
  components: ComponentBalanceView[];
  deviations: DeviationView[];
  deviationReason: string | null;
  /** Components with several lots and no changeover: any piece may hold any of them. */
  unsure: string[];
  note: string | null;
}

export class InvestigationView {
  what: string;
  detail: string;
  explanation: string | null;
  explainedBy: string | null;
  explainedSeq: number | null;
}

export class RunCorrectionView {
  seq: number;
  corrects: number | null;
  reason: string;
  at: string;
  by: string;
  voided: number;
  linked: number;
}

export class VesselPartView {
  lot: string;
  item: string;
  quantity: string;
  unit: string;
}

export class ResidueView {
  lot: string;
  vessel: string;
}

export class RunHeadView {
  run: string;
  kind: string;
  state: 'open' | 'closed';
  item: string;
  name: string;
  unit: string;
  recipe: string | null;
  bom: string | null;
  vessel: string | null;
  line: string | null;
  people: string[];
  startedAt: string;
  finishedAt: string | null;
  planned: string | null;
  lot: string | null;
  /** True while a figure of its closing has not been explained. */
  toExplain: boolean;
  startedSeq: number;
  closedSeq: number | null;
}

export class ClearanceView {
  checkedBy: string;
  note: string | null;
}

export class RunLabelView {
  text: string;
  code: string | null;
}

export class RunView extends RunHeadView {
  itemRevision: number;
  recipeRevision: number | null;
  bomRevision: number | null;
  startedBy: string;
  closedBy: string | null;
  clearance: ClearanceView | null;
  label: RunLabelView | null;
  note: string | null;
  /** What the vessel still holds of an earlier batch, to be charged as heel or taken out. */
  heel: VesselPartView[];
  residues: ResidueView[];
  steps: RunStepView[];
  components: RunComponentView[];
  charges: RunChargeView[];
  changeovers: RunChangeoverView[];
  replacements: ReplacementView[];
  yields: RunYieldView | null;
  result: RunResultView | null;
  investigations: InvestigationView[];
  corrections: RunCorrectionView[];
}
