import { parseQuantity, QuantityFault } from '../quantity.js';
import { MeasurementFault } from './measurement-fault.js';

/** The colour of a surface in CIE 1976 L*a*b*, each coordinate in millionths. */
export interface LabMicro {
  readonly lMicro: number;
  readonly aMicro: number;
  readonly bMicro: number;
}

/** How the net content of filled packages is judged: what a plan revision says once. */
export interface NetContentMethod {
  readonly kind: 'net-content';
  /** The quantity on the label, in millionths of `unit`. */
  readonly nominalMicro: number;
  readonly unit: 'g' | 'kg' | 'mL' | 'L';
  /** What is entered for each package: its net content, or gross and tare. */
  readonly weighed: 'net' | 'gross-and-tare';
  /** For a volume that is weighed: kg/L in millionths. Readings are then g for mL and kg for L. */
  readonly densityMicro?: number | undefined;
  readonly rules:
    | { readonly set: 'packer'; readonly allowedShort?: number | undefined }
    | { readonly set: 'reference'; readonly destructive: boolean };
}

/** How a characteristic is worked out from what is read: what a plan revision says once. */
export type Method =
  | { readonly kind: 'single' }
  | { readonly kind: 'mean' }
  | { readonly kind: 'range' }
  | { readonly kind: 'density'; readonly massUnit: 'kg' | 'g'; readonly volumeUnit: 'L' | 'mL' }
  | { readonly kind: 'colour-difference'; readonly standard: LabMicro }
  | NetContentMethod;

/** Every kind of method, for a list to choose from. */
export const METHOD_KINDS: readonly Method['kind'][] = ['single', 'mean', 'range', 'density', 'colour-difference', 'net-content'];

/** One line of what was read: a number in millionths for each column that `rowColumns` names. */
export type Row = Readonly<Record<string, number>>;

/** The same line as it travels: decimal texts. */
export type TextRow = Readonly<Record<string, string>>;

/** What a person enters on each line for this method, in order. */
export function rowColumns(method: Method): readonly string[] {
  switch (method.kind) {
    case 'density':
      return ['mass', 'volume'];
    case 'colour-difference':
      return ['l', 'a', 'b'];
    case 'net-content':
      return method.weighed === 'gross-and-tare' ? ['gross', 'tare'] : ['net'];
    default:
      return ['value'];
  }
}

/**
 * Reads the lines a person entered. Every fault is found, not only the first.
 * @returns the rows in millionths, and the faults with a pointer into the lines ('/2/mass'); rows are for use only when there are none
 */
export function readRows(method: Method, lines: readonly TextRow[]): { rows: Row[]; faults: MeasurementFault[] } {
  const columns = rowColumns(method);
  const faults: MeasurementFault[] = [];
  const rows = lines.map((line, i) => {
    const row: Record<string, number> = {};
    for (const column of columns) {
      const text = line[column];
      if (text === undefined) faults.push(new MeasurementFault(`${column} is missing`, `/${i}/${column}`));
      else readInto(row, column, text, `/${i}/${column}`, faults);
    }
    for (const column of Object.keys(line)) {
      if (!columns.includes(column)) {
        faults.push(new MeasurementFault(`${column} is not read by this method; it reads ${columns.join(', ')}`, `/${i}/${column}`));
      }
    }
    return row;
  });
  return { rows, faults };
}

function readInto(row: Record<string, number>, column: string, text: string, at: string, faults: MeasurementFault[]): void {
  try {
    row[column] = parseQuantity(text);
  } catch (error) {
    if (!(error instanceof QuantityFault)) throw error;
    faults.push(new MeasurementFault(error.message, at));
  }
}
