/** The wire shape of bringing older records over, as `kinledger import --json` and `POST /api/imports` answer it. */

export type ImportFile = 'parties.csv' | 'items.csv' | 'lots.csv' | 'links.csv' | 'shipments.csv';

/** One thing that is wrong with the files: where it stands and why it cannot be brought over. */
export interface ImportFault {
  /** What sort of fault, for a program. */
  readonly code: string;
  /** The reason, for a person. */
  readonly detail: string;
  readonly file: string;
  /** Line of the file, the header being line 1; null when the fault is of the file as a whole. */
  readonly line: number | null;
  readonly column: string | null;
  /** What stands there; null when nothing does. */
  readonly value: string | null;
}

/** One file as it was read. */
export interface ImportedFile {
  readonly file: ImportFile;
  /** Rows below the header. */
  readonly rows: number;
  /** SHA-256 of the file's bytes, lower-case hexadecimal. */
  readonly sha256: string;
}

/** How much was brought over. */
export interface ImportCounts {
  readonly parties: number;
  readonly items: number;
  readonly lots: number;
  readonly links: number;
  readonly runs: number;
  readonly shipments: number;
  readonly shipmentLines: number;
}

/** What became of a folder of files. */
export interface ImportReport {
  /** Number of the import; null when nothing was written. */
  readonly import: string | null;
  readonly dryRun: boolean;
  /** Whether the files are free of faults. */
  readonly ok: boolean;
  readonly files: readonly ImportedFile[];
  readonly counts: ImportCounts;
  /** Last ledger entry of the import; null when nothing was written. */
  readonly seq: number | null;
  /** All faults there are, also those not listed. */
  readonly faultCount: number;
  /** The first 1,000. */
  readonly faults: readonly ImportFault[];
}
