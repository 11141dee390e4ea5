import { CommandDone } from './ledger/command-done.entity.js';
import { LedgerEntry, LedgerHead } from './ledger/ledger-entry.entity.js';
import { Ledger1764000000000 } from './ledger/ledger.migration.js';
import { CatalogueRecord } from './plant/catalogue/catalogue.entity.js';
import { Catalogue1764000200000 } from './plant/catalogue/catalogue.migration.js';
import { ShipmentLineRow, ShipmentRow } from './plant/dispatch/dispatch.entity.js';
import { Dispatch1764000700000 } from './plant/dispatch/dispatch.migration.js';
import { LotFileRow, StoredFileRow } from './plant/files/files.entity.js';
import { Files1764001300000 } from './plant/files/files.migration.js';
import { Hold, UrgentRelease } from './plant/holds/holds.entity.js';
import { Holds1764000300000 } from './plant/holds/holds.migration.js';
import { ImportFileRow, ImportRow } from './plant/import/import.entity.js';
import { Import1764001000000 } from './plant/import/import.migration.js';
import { Inspection, InspectionTally, Switching, TestResult } from './plant/inspection/inspection.entity.js';
import { Inspections1764001200000 } from './plant/inspection/inspection.migration.js';
import { Calibration, InstrumentQuestion } from './plant/instruments/instrument.entity.js';
import { Instruments1764001400000 } from './plant/instruments/instrument.migration.js';
import { Dispositions1764001600000 } from './plant/nonconformance/dispositions.migration.js';
import { DispositionRow, NonconformanceReport, ReportPartRow } from './plant/nonconformance/nonconformance.entity.js';
import { Nonconformance1764001500000 } from './plant/nonconformance/nonconformance.migration.js';
import { ReviewRuleRow } from './plant/nonconformance/review-rule.entity.js';
import { ApiKey, Person, PersonAccount, Session, SetUpCode, SignInFailure } from './plant/people/people.entity.js';
import { People1764000150000 } from './plant/people/people.migration.js';
import { PartReplacedRow } from './plant/production/replacing.entity.js';
import { Run, RunChangeover, RunCharge, RunCorrection, RunInvestigation } from './plant/production/run.entity.js';
import { Runs1764000500000 } from './plant/production/run.migration.js';
import { RunResidue, RunVessel, VesselBatch, VesselCleaning, VesselEmptying } from './plant/production/vessel.entity.js';
import { Vessels1764000510000 } from './plant/production/vessel.migration.js';
import { Recall, RecallPartRow, RecallScopeRow } from './plant/recall/recall.entity.js';
import { Recalls1764000900000 } from './plant/recall/recall.migration.js';
import { Delivery, DeliveryLineRow } from './plant/receiving/receiving.entity.js';
import { Receiving1764000400000 } from './plant/receiving/receiving.migration.js';
import { DeliveryReversal1764001100000 } from './plant/receiving/reversal.migration.js';
import { GoodsReturn, ReturnLineRow } from './plant/returns/returns.entity.js';
import { Returns1764000800000 } from './plant/returns/returns.migration.js';
import { StockDocument } from './plant/stock/documents.entity.js';
import { StockDocuments1764000110000 } from './plant/stock/documents.migration.js';
import { LotOrder1764001700000 } from './plant/stock/lot-order.migration.js';
import { Link, Lot, LotStatusRow, Serial, Whereabout } from './plant/stock/stock.entity.js';
import { Stock1764000100000 } from './plant/stock/stock.migration.js';
import { EntrySubject } from './plant/telling/subjects.entity.js';
import { Subjects1764000050000 } from './plant/telling/subjects.migration.js';
import type { Schema } from './platform/database/data-source.js';
import { Verification } from './record/verification.entity.js';
import { Verification1764000060000 } from './record/verification.migration.js';

/** Tables that follow from the ledger: a rebuild makes them again and must give equal rows. */
export const PROJECTED = [
  Calibration,
  CatalogueRecord,
  Delivery,
  DeliveryLineRow,
  DispositionRow,
  EntrySubject,
  GoodsReturn,
  Hold,
  ImportFileRow,
  ImportRow,
  Inspection,
  InspectionTally,
  InstrumentQuestion,
  Link,
  Lot,
  LotFileRow,
  LotStatusRow,
  NonconformanceReport,
  PartReplacedRow,
  Person,
  Recall,
  RecallPartRow,
  RecallScopeRow,
  ReportPartRow,
  ReturnLineRow,
  ReviewRuleRow,
  Run,
  RunChangeover,
  RunCharge,
  RunCorrection,
  RunInvestigation,
  RunResidue,
  RunVessel,
  Serial,
  ShipmentLineRow,
  ShipmentRow,
  StockDocument,
  StoredFileRow,
  Switching,
  TestResult,
  UrgentRelease,
  VesselBatch,
  VesselCleaning,
  VesselEmptying,
  Whereabout,
] as const;

/** Tables beside it: the ledger itself, answers to commands, and what may be forgotten (names, passwords, sessions, keys). */
export const KEPT = [LedgerEntry, LedgerHead, CommandDone, PersonAccount, Session, ApiKey, SignInFailure, SetUpCode, Verification] as const;

export const SCHEMA: Schema = {
  entities: [...PROJECTED, ...KEPT],
  migrations: [
    Ledger1764000000000,
    Subjects1764000050000,
    Verification1764000060000,
    Stock1764000100000,
    StockDocuments1764000110000,
    People1764000150000,
    Catalogue1764000200000,
    Holds1764000300000,
    Receiving1764000400000,
    Runs1764000500000,
    Vessels1764000510000,
    Dispatch1764000700000,
    Returns1764000800000,
    Recalls1764000900000,
    Import1764001000000,
    DeliveryReversal1764001100000,
    Inspections1764001200000,
    Files1764001300000,
    Instruments1764001400000,
    Nonconformance1764001500000,
    Dispositions1764001600000,
    LotOrder1764001700000,
  ],
};
