import { Reasons } from '../../../../shared/refusal.js';
import type { SpanSet } from '../../../../shared/spans.js';
import type { Defect, SeverityClass } from '../catalogue/inspection-plan.facts.js';
import { checkFiles } from '../files/files.decide.js';
import { heldAt, type LotState, wholeOf } from '../stock/lot-state.facts.js';
import { settlePart } from '../stock/part.decide.js';
import type { AffectedPart, ReportRaised, Source } from './nonconformance.facts.js';

/** A part as it is named: pieces, a quantity, or neither for all (of a bulk lot: all that is left and was shipped of it). */
export interface AskedPart {
  readonly lot: string;
  readonly pieces?: SpanSet | undefined;
  readonly quantityMicro?: number | undefined;
  /** Reached by a trace: left out where nothing of it is here or with customers any more. */
  readonly ifLeft?: true;
}

export interface Raise {
  readonly source: { readonly kind: Source; readonly code: string | null };
  readonly requirement: string;
  readonly found: string;
  readonly defects: readonly { readonly defect: string; readonly count: number }[];
  readonly measured: readonly string[];
  readonly files: readonly string[];
  readonly severity: SeverityClass;
  readonly foundBy: string;
  readonly foundAt: string;
  readonly parts: readonly AskedPart[];
}

interface RaiseState {
  readonly report: string;
  readonly at: string;
  readonly lots: ReadonlyMap<string, LotState>;
  readonly defects: ReadonlyMap<string, Defect>;
  readonly knownFiles: ReadonlySet<string>;
  readonly finderKnown: boolean;
  /** Whether the record has what the source names. */
  readonly sourceKnown: boolean;
}

/**
 * Raises a report.
 * @throws Refusal with every fault of every part
 * @see docs/rules/nonconformance.md NR-3
 */
export function decideRaise(command: Raise, state: RaiseState): ReportRaised {
  const no = new Reasons();
  const { source } = command;
  if (source.code !== null && !state.sourceKnown) {
    no.unknown('source-unknown', `no ${source.kind} ${source.code}`, { pointer: '/source/code' });
  }
  if (!state.finderKnown) no.unknown('person-unknown', `no person ${command.foundBy}`, { pointer: '/foundBy' });
  if (command.foundAt > state.at) {
    no.conflict('not-yet', `found at ${command.foundAt}, which is still to come`, { pointer: '/foundAt' });
  }
  command.defects.forEach(({ defect }, i) => {
    if (!state.defects.has(defect)) {
      no.unknown('defect-unknown', `no defect ${defect} on the plant's list`, { pointer: `/defects/${i}/defect` });
    }
  });
  checkFiles(no, command.files, state.knownFiles, '/files');
  const parts = affectedParts(no, command.parts, state.lots);
  no.throwIfAny();
  return { kind: 'ReportRaised', v: 1, report: state.report, state: 'raised', ...command, parts };
}

function affectedParts(no: Reasons, asked: readonly AskedPart[], lots: ReadonlyMap<string, LotState>): AffectedPart[] {
  const seen = new Set<string>();
  return asked.flatMap((part, i) => {
    const pointer = `/parts/${i}`;
    if (seen.has(part.lot)) {
      no.conflict('lot-named-twice', `${part.lot} is named twice: give its parts on one line`, { pointer: `${pointer}/lot` });
    }
    seen.add(part.lot);
    const lot = lots.get(part.lot);
    if (!lot) {
      no.unknown('lot-unknown', `no lot ${part.lot}`, { pointer: `${pointer}/lot`, lot: part.lot });
      return [];
    }
    if (part.ifLeft && lot.pieces === null && leftOf(lot) === 0) return [];
    return affectedPart(no, part, lot, pointer) ?? [];
  });
}

/** Of a bulk lot: what is here or with customers. */
const leftOf = (lot: LotState): number => heldAt(lot, 'on-hand').quantityMicro + heldAt(lot, 'dispatched').quantityMicro;

/**
 * Settles a part: all pieces where none are named, and of a bulk lot the quantity that is here or with customers. What went into something else
 * is that thing now, and is judged there.
 */
export function affectedPart(no: Reasons, part: AskedPart, lot: LotState, pointer: string): AffectedPart | null {
  const whole = part.pieces === undefined && part.quantityMicro === undefined;
  const there = leftOf(lot);
  const asked = {
    spans: whole ? (wholeOf(lot) ?? undefined) : part.pieces,
    quantityMicro: whole && lot.pieces === null ? there : part.quantityMicro,
  };
  if (lot.pieces === null && there === 0) {
    no.conflict('nothing-left', `nothing of ${lot.lot} is here or with customers: judge what was made from it`, { pointer, lot: lot.lot });
    return null;
  }
  const settled = settlePart(no, lot, asked, pointer);
  if (settled === null) return null;
  if (lot.pieces === null && settled.quantityMicro > there) {
    no.conflict('not-enough-left', `less of ${lot.lot} is here or with customers than that`, {
      pointer: `${pointer}/quantity`,
      lot: lot.lot,
    });
  }
  return { lot: lot.lot, spans: settled.spans, quantityMicro: settled.spans === null ? settled.quantityMicro : null };
}
