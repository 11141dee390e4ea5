import type { ImportCounts, ImportedFile, ImportFile } from '../../../../shared/api/imports.js';
import type { Item, Party } from '../catalogue/catalogue.facts.js';
import type { LotStatus, Origin } from '../stock/effects.facts.js';
import { Float64List, Int32List } from './columns.js';
import { Names } from './names.js';

/** The seven kinds of making step. */
export const RUN_KINDS = ['mixing', 'machining', 'treating', 'filling', 'building', 'rework', 'repacking'] as const;
export type RunKind = (typeof RUN_KINDS)[number];

/** Stands for a quantity or piece number that a file leaves empty: not known, or all of the lot. */
export const NOT_GIVEN = -1;

interface PartyRow {
  readonly line: number;
  readonly party: Party;
}

interface ItemRow {
  readonly line: number;
  readonly item: Omit<Item, 'tracking'>;
}

export interface LotRow {
  readonly line: number;
  /** False when a cell of the row is wrong: what it names is still looked up, and nothing more is asked of it. */
  readonly sound: boolean;
  readonly lot: string;
  /** Empty, as is `at`, only in a row that is not sound. */
  readonly item: string;
  readonly quantityMicro: number | null;
  readonly pieces: number | null;
  readonly origin: Origin;
  readonly at: string;
  readonly supplier: string | undefined;
  readonly supplierLot: string | undefined;
  readonly expiresOn: string | undefined;
  /** Null when the file does not say. */
  readonly status: LotStatus | null;
}

export interface RunRow {
  readonly line: number;
  readonly run: string;
  readonly kind: RunKind;
}

export interface ShipmentRow {
  readonly line: number;
  readonly shipment: string;
  readonly customer: string;
  /** Empty when the first row of the shipment has no instant that can be read. */
  readonly at: string;
}

/** The rows of links.csv in columns. Lots, runs and instants are numbers into the folder's lists. */
export class LinkRows {
  readonly line = new Int32List();
  /** 1 while nothing is wrong with the row. */
  readonly sound = new Int32List();
  readonly run = new Int32List();
  readonly at = new Int32List();
  readonly from = new Int32List();
  readonly fromFirst = new Int32List();
  readonly fromLast = new Int32List();
  readonly to = new Int32List();
  readonly toFirst = new Int32List();
  readonly toLast = new Int32List();
  readonly quantity = new Float64List();
  /** 1 for `each`, 0 for `all`. */
  readonly each = new Int32List();

  get count(): number {
    return this.line.count;
  }
}

/** The rows of shipments.csv in columns. */
export class ShipmentLines {
  readonly line = new Int32List();
  /** 1 while nothing is wrong with the row. */
  readonly sound = new Int32List();
  readonly shipment = new Int32List();
  readonly lot = new Int32List();
  readonly first = new Int32List();
  readonly last = new Int32List();
  readonly quantity = new Float64List();

  get count(): number {
    return this.line.count;
  }
}

/** What the files of a folder say, row faults apart. Everything is held in numbers: a million links are some 45 MB. */
export class Folder {
  readonly files: ImportedFile[] = [];
  /** Files that could not be read to their end: what they name is not known. */
  readonly brokenOff = new Set<ImportFile>();
  readonly parties = new Map<string, PartyRow>();
  readonly items = new Map<string, ItemRow>();
  /** Codes of the lots of lots.csv, then of those that rows name and that must stand in the plant. */
  readonly lotNames = new Names();
  /** By number of the lot. */
  readonly lots: LotRow[] = [];
  readonly runNames = new Names();
  readonly runs: RunRow[] = [];
  readonly links = new LinkRows();
  /** Instants of links, each once. */
  readonly instants: string[] = [];
  readonly shipmentNames = new Names();
  readonly shipments: ShipmentRow[] = [];
  readonly shipmentLines = new ShipmentLines();

  /** Whether the lot stands in lots.csv; else it must stand in the plant. */
  isOwn(lot: number): boolean {
    return lot < this.lots.length;
  }

  /** Codes of lots that rows name and lots.csv does not have. */
  get outsideLots(): string[] {
    const codes: string[] = [];
    for (let lot = this.lots.length; lot < this.lotNames.count; lot++) codes.push(this.lotNames.text(lot));
    return codes;
  }
}

export const countsOf = (folder: Folder): ImportCounts => ({
  parties: folder.parties.size,
  items: folder.items.size,
  lots: folder.lots.length,
  links: folder.links.count,
  runs: folder.runs.length,
  shipments: folder.shipments.length,
  shipmentLines: folder.shipmentLines.count,
});
