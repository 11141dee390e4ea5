import { IsBooleanString, IsOptional } from 'class-validator';
import type { ImportCounts, ImportedFile, ImportFault, ImportFile, ImportReport } from '../../../../shared/api/imports.js';
import { IsCode } from '../../platform/http/fields.js';

export class ImportQueryDto {
  /** `true` checks everything and writes nothing. */
  @IsOptional()
  @IsBooleanString()
  dryRun?: string;

  /** Made by the client and sent again with a retry: the files are brought over once per id. */
  @IsOptional()
  @IsCode()
  commandId?: string;
}

export class ImportedFileView implements ImportedFile {
  file: ImportFile;
  /** Rows below the header. */
  rows: number;
  sha256: string;
}

export class ImportCountsView implements ImportCounts {
  parties: number;
  items: number;
  lots: number;
  links: number;
  runs: number;
  shipments: number;
  shipmentLines: number;
}

export class ImportFaultView implements ImportFault {
  code: string;
  detail: string;
  file: string;
  line: number | null;
  column: string | null;
  value: string | null;
}

export class ImportReportView implements ImportReport {
  /** Number of the import; null when nothing was written. */
  import: string | null;
  dryRun: boolean;
  ok: boolean;
  files: ImportedFileView[];
  counts: ImportCountsView;
  /** Last ledger entry of the import. */
  seq: number | null;
  faultCount: number;
  /** The first 1,000. */
  faults: ImportFaultView[];
}

export class ImportView {
  import: string;
  at: string;
  by: string;
  /** Last ledger entry of the import. */
  seq: number;
  counts: ImportCountsView;
  files: ImportedFileView[];
}
