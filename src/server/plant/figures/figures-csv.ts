import { csvTable } from '../../platform/csv.js';
import type { SupplierItemView } from './figures.dto.js';

const COLUMNS = [
  'supplier',
  'item',
  'lots',
  'accepted',
  'not_accepted',
  'skipped',
  'open',
  'items_inspected',
  'items_nonconforming',
  'nonconforming_per_million',
  'per_million_lower_95',
  'per_million_upper_95',
  'severity',
  'released',
  'median_hours_to_release',
  'longest_hours_to_release',
];

/** The picture of suppliers and items as CSV, one row each. */
export const supplierItemsCsv = (rows: readonly SupplierItemView[]): string =>
  csvTable(
    COLUMNS,
    rows.map((row) => [
      row.supplier,
      row.item,
      row.lots,
      row.accepted,
      row.notAccepted,
      row.skipped,
      row.open,
      row.itemsInspected,
      row.itemsNonconforming,
      row.nonconformingPerMillion?.estimate ?? null,
      row.nonconformingPerMillion?.lower ?? null,
      row.nonconformingPerMillion?.upper ?? null,
      row.severity.map((one) => `${one.class} ${one.severity}`).join('; '),
      row.released,
      row.medianHoursToRelease,
      row.longestHoursToRelease,
    ]),
  );
