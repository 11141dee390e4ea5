/** What a certificate of analysis says, as plain values: what was measured on the sample of one lot, up to its release. */
export interface Certificate {
  readonly plantName: string;
  readonly lot: string;
  readonly item: { readonly code: string; readonly name: string; readonly gtin: string | null; readonly hazard: string | null };
  /** Pieces released, as `1-4799`; null for a bulk lot. */
  readonly pieces: string | null;
  readonly quantity: string;
  readonly unit: string;
  readonly origin: { readonly label: string; readonly value: string };
  readonly madeOn: string | null;
  readonly expiresOn: string | null;
  readonly released: readonly {
    readonly by: string;
    readonly name: string | null;
    readonly at: string;
    readonly meaning: string;
    readonly seq: number;
  }[];
  /** Entry the certificate is read at: that of the last release. */
  readonly asKnownAt: { readonly seq: number; readonly at: string; readonly hash: string };
  readonly inspections: readonly CertifiedInspection[];
}

export interface CertifiedInspection {
  readonly inspection: string;
  readonly planRevision: number;
  readonly decidedAt: string;
  readonly decidedBy: string;
  /** Null where only the lot was tested. */
  readonly sample: {
    readonly edition: string;
    readonly level: string;
    readonly type: string;
    readonly codeLetter: string;
    readonly inspected: number;
    readonly lotSize: number;
  } | null;
  readonly classes: readonly { readonly class: string; readonly aql: string | null; readonly numbers: string; readonly found: number }[];
  readonly results: readonly CertifiedResult[];
}

export interface CertifiedResult {
  readonly name: string;
  readonly limits: string;
  readonly value: string;
  readonly unit: string;
  readonly within: boolean;
  readonly instrument: string | null;
  readonly procedure: string | null;
  readonly measuredAt: string;
  /** How many items, where it was measured on each; null for a test of the lot. */
  readonly items: number | null;
  /** Earlier results of the same characteristic, with the reason of the retest. */
  readonly before: readonly { readonly value: string; readonly reason: string }[];
}
