import { TraceView } from '../../trace/trace.dto.js';
import { CalibrationView, DoubtfulTimeView, InstrumentQuestionView } from './instruments.dto.js';

/** A result that was taken with the instrument. */
export class JudgedResultView {
  inspection: string;
  /** The tally it is part of; null for a test of the lot. */
  tally: number | null;
  number: number;
  characteristic: string;
  lot: string;
  item: string;
  piece: number | null;
  at: string;
  person: string;
  /** Ledger entry that recorded it. */
  seq: number;
  value: string;
  unit: string;
  within: boolean;
  retestOf: number | null;
  /** Its tally was entered in error: it judged nothing. */
  takenBack: boolean;
}

export class JudgedInspectionView {
  inspection: string;
  /** Pieces it stood for; null: all of a bulk lot. */
  pieces: string | null;
  state: string;
  verdict: string | null;
}

/** A lot that results of the instrument judged. */
export class JudgedLotView {
  lot: string;
  item: string;
  inspections: JudgedInspectionView[];
}

/** What an instrument judged in a time, everything made from it, and where that is now. */
export class JudgedView {
  instrument: string;
  /** The calibration that is asked about. */
  calibration: CalibrationView;
  /** What that calibration opened; null if it opened no question. */
  question: InstrumentQuestionView | null;
  time: DoubtfulTimeView;
  results: JudgedResultView[];
  lots: JudgedLotView[];
  /** Forward from those lots, with whereabouts and consignees; null where no result judged anything. */
  trace: TraceView | null;
}
