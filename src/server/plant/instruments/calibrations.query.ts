import type { EntityManager } from 'typeorm';
import { formatQuantity } from '../../../../shared/quantity.js';
import { queryRows } from '../../platform/database/rows.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { knownFiles } from '../files/files.query.js';
import { nextDocument } from '../stock/codes.query.js';
import type { CalibrateInstrument, CalibrationState, StandingCalibration } from './calibration.decide.js';
import type { AsFound, CalibrationResult, Reading } from './instrument.facts.js';
import type { CalibrationView, ReadingView } from './instruments.dto.js';

/** What recording a calibration rests on. */
export async function calibrationState(tx: EntityManager, command: CalibrateInstrument, at: string): Promise<CalibrationState> {
  const { instrument, calibratedAt, certificateFile } = command;
  const [same] = await queryRows<{ code: string }>(
    tx,
    'SELECT "code" FROM "calibration" WHERE "instrument" = ? AND "calibrated_at" = ? AND "voided_seq" IS NULL',
    [instrument, calibratedAt],
  );
  return {
    at,
    calibration: await nextDocument(tx, 'calibration', 'CAL'),
    instrument: (await catalogueByCode(tx, 'instrument', [instrument])).get(instrument),
    sameMoment: same?.code ?? null,
    certificateStored: certificateFile === undefined || (await knownFiles(tx, [certificateFile])).has(certificateFile),
  };
}

export async function standingCalibration(tx: EntityManager, calibration: string): Promise<StandingCalibration | undefined> {
  const [row] = await queryRows<{ instrument: string; recorded_seq: number; voided_seq: number | null }>(
    tx,
    'SELECT "instrument", "recorded_seq", "voided_seq" FROM "calibration" WHERE "code" = ?',
    [calibration],
  );
  return row && { calibration, instrument: row.instrument, recordedSeq: row.recorded_seq, voidedSeq: row.voided_seq };
}

interface CalibrationRow {
  code: string;
  instrument: string;
  calibrated_at: string;
  as_found: AsFound;
  result: CalibrationResult;
  due_on: string | null;
  calibrated_by: string;
  certificate_file: string | null;
  note: string | null;
  readings: string | null;
  recorded_seq: number;
  recorded_at: string;
  recorded_by: string;
  voided_seq: number | null;
  voided_at: string | null;
  voided_by: string | null;
  void_reason: string | null;
}

const CALIBRATIONS = `SELECT c.*, r."at" AS "recorded_at", r."actor" AS "recorded_by", v."at" AS "voided_at", v."actor" AS "voided_by"
  FROM "calibration" c JOIN "ledger_entry" r ON r."seq" = c."recorded_seq" LEFT JOIN "ledger_entry" v ON v."seq" = c."voided_seq"`;

/** Every calibration of an instrument, the latest first. */
export async function calibrationsOf(from: EntityManager, instrument: string): Promise<CalibrationView[]> {
  const rows = await queryRows<CalibrationRow>(
    from,
    `${CALIBRATIONS} WHERE c."instrument" = ? ORDER BY c."calibrated_at" DESC, c."recorded_seq" DESC`,
    [instrument],
  );
  return rows.map(viewOf);
}

export async function calibrationView(from: EntityManager, calibration: string): Promise<CalibrationView | undefined> {
  const [row] = await queryRows<CalibrationRow>(from, `${CALIBRATIONS} WHERE c."code" = ?`, [calibration]);
  return row && viewOf(row);
}

const viewOf = (row: CalibrationRow): CalibrationView => ({
  calibration: row.code,
  instrument: row.instrument,
  calibratedAt: row.calibrated_at,
  asFound: row.as_found,
  result: row.result,
  dueOn: row.due_on,
  calibratedBy: row.calibrated_by,
  certificateFile: row.certificate_file,
  note: row.note,
  readings: row.readings === null ? null : (JSON.parse(row.readings) as Reading[]).map(readingView),
  seq: row.recorded_seq,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
  voided:
    row.voided_seq === null
      ? null
      : { seq: row.voided_seq, at: row.voided_at ?? '', by: row.voided_by ?? '', reason: row.void_reason ?? '' },
});

const readingView = ({ nominalMicro, foundMicro, toleranceMicro, pass }: Reading): ReadingView => ({
  nominal: formatQuantity(nominalMicro),
  found: formatQuantity(foundMicro),
  tolerance: formatQuantity(toleranceMicro),
  difference: formatQuantity(foundMicro - nominalMicro),
  pass,
});
