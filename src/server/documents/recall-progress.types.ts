/** Pieces or a quantity as a decimal in the unit of its lot; for pieces their number. */
export interface WrittenPart {
  /** Null where the lot has no numbered pieces. */
  readonly spans: readonly (readonly number[])[] | null;
  readonly quantity: string;
}

export interface ProgressStrategy {
  readonly at: string;
  readonly by: string;
  readonly evaluation: {
    readonly injuries: string;
    readonly conditions: string;
    readonly exposed: string;
    readonly seriousness: string;
    readonly likelihood: string;
    readonly consequences: string;
  };
  readonly class: string;
  readonly classReason: string;
  readonly depth: string;
  readonly publicWarning: { readonly needed: boolean; readonly reason: string };
  readonly level: string;
  readonly completionOn: string | null;
  readonly reportEveryDays: number;
  readonly reason: string;
  readonly meaning: string;
}

export interface ProgressNotice {
  readonly at: string;
  readonly channel: string;
  readonly version: number;
  readonly content: string;
}

export interface ProgressLotAccount {
  readonly lot: string;
  readonly unit: string;
  readonly sent: WrittenPart;
  readonly cameBack: WrittenPart;
  readonly destroyed: WrittenPart;
  readonly corrected: WrittenPart;
  readonly soldOn: WrittenPart;
  readonly outstanding: WrittenPart;
}

interface ProgressConsignee {
  readonly customer: string;
  readonly name: string;
  readonly notices: readonly ProgressNotice[];
  readonly answer: {
    readonly stopped: boolean;
    readonly acted: boolean;
    readonly passedOn: boolean | null;
    readonly onHand: readonly (WrittenPart & { readonly lot: string })[];
    readonly signedBy: string;
    readonly answeredOn: string;
  } | null;
  readonly lots: readonly ProgressLotAccount[];
  readonly check: {
    readonly at: string;
    readonly by: string;
    readonly method: string;
    readonly reached: boolean;
    readonly followed: boolean;
    readonly note: string;
  } | null;
}

export interface ProgressGoods {
  readonly unit: string;
  readonly sent: string;
  readonly cameBack: string;
  readonly destroyed: string;
  readonly corrected: string;
  readonly soldOn: string;
  readonly outstanding: string;
  readonly contradicted: string;
  /** Per cent of what was sent. */
  readonly recovered: string;
  readonly accounted: string;
}

/** An instant, and seconds since the recall was opened. */
export interface ProgressTime {
  readonly at: string;
  readonly seconds: number;
}

/** How far a recall has come, as known at one ledger entry; quantities are decimals as they are written on the wire. */
export interface RecallProgress {
  readonly drill: boolean;
  readonly status: 'open' | 'closed';
  readonly asKnownAt: { readonly seq: number; readonly at: string; readonly hash: string };
  /** Version of the scope it follows. */
  readonly version: number;
  readonly reports: readonly string[];
  readonly strategies: readonly ProgressStrategy[];
  readonly notified: { readonly consignees: number; readonly notified: number; readonly publicNotices: readonly ProgressNotice[] };
  readonly replied: { readonly replied: number };
  readonly silent: readonly { readonly customer: string; readonly nextContactOn: string; readonly due: boolean }[];
  readonly goods: readonly ProgressGoods[];
  readonly effectiveness: {
    readonly level: string | null;
    readonly needed: number;
    readonly checked: number;
    readonly followed: number;
  };
  readonly completion: { readonly estimatedOn: string | null; readonly nextReportOn: string | null };
  readonly consignees: readonly ProgressConsignee[];
  readonly record: readonly { readonly unit: string; readonly share: string; readonly over: string }[];
  readonly times: {
    readonly openedAt: string;
    readonly scope: ProgressTime;
    readonly firstNotice: ProgressTime | null;
    readonly reconciliation: ProgressTime | null;
    readonly closing: ProgressTime | null;
    readonly drill: {
      readonly seconds: number;
      readonly running: boolean;
      readonly targetSeconds: number;
      readonly withinTarget: boolean;
    } | null;
  };
  readonly gaps: readonly {
    readonly gap: number;
    readonly found: string;
    readonly action: string;
    readonly owner: string;
    readonly dueOn: string;
    readonly done: string | null;
  }[];
  readonly outstanding: readonly { readonly detail: string }[];
  readonly signatures: readonly {
    readonly seq: number;
    readonly at: string;
    readonly by: string;
    readonly as: string;
    readonly reason: string;
    readonly meaning: string;
    readonly nevertheless: string | null;
    readonly outstanding: readonly string[];
    readonly closes: boolean;
    readonly stands: boolean;
  }[];
}
