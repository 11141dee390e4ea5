import { formatQuantity } from '../../../../shared/quantity.js';
import { Reasons } from '../../../../shared/refusal.js';
import { coversSpans, formatSpans, type SpanSet, unionSpans } from '../../../../shared/spans.js';
import { begin, type StockState } from './documents.decide.js';
import type { StockCorrected } from './documents.facts.js';
import type { Movement, Place } from './effects.facts.js';
import { heldAt, type LotState } from './lot-state.facts.js';

/** An earlier stock document, as a correction needs it. */
export interface EarlierDocument {
  readonly document: string;
  readonly kind: string;
  readonly seq: number;
  readonly lot: string;
  readonly correctedSeq: number | null;
  readonly moved: readonly Movement[];
}

/**
 * Undoes an earlier stock document by an entry that names it: everything it moved goes back, if it is still where it was put.
 * @see docs/rules/stock.md S-11
 */
export function decideCorrect(
  command: { readonly corrects: string; readonly reason: string },
  state: StockState & { readonly earlier: EarlierDocument | undefined },
): StockCorrected {
  const no = new Reasons();
  const { earlier } = state;
  if (!earlier) {
    no.unknown('document-unknown', `no stock document ${command.corrects}`, { pointer: '/corrects' });
    no.throwIfAny();
  }
  const { lot } = begin({ lot: earlier!.lot }, state);
  if (earlier!.correctedSeq !== null) {
    no.conflict('corrected-before', `${command.corrects} was put right by entry ${earlier!.correctedSeq}`, { pointer: '/corrects' });
  }
  if (earlier!.kind === 'StockCorrected')
    no.conflict('is-correction', `${command.corrects} is itself a correction: record what is true now`, { pointer: '/corrects' });
  checkBack(no, lot, earlier!.moved);
  no.throwIfAny();
  return {
    kind: 'StockCorrected',
    v: 1,
    document: state.document,
    lot: lot.lot,
    reason: command.reason,
    corrects: earlier!.seq,
    correctsDocument: earlier!.document,
    moved: earlier!.moved.map(({ from, to, ...part }) => ({ ...part, from: to, to: from })),
  };
}

/** Everything the document moved is still where it put it: what it put at one place is looked at together. */
function checkBack(no: Reasons, lot: LotState, moved: readonly Movement[]): void {
  const put = new Map<string, { to: Place; quantityMicro: number; spans: SpanSet | null }>();
  for (const { to, quantityMicro, spans } of moved) {
    const key = `${to.fate}\u0000${to.at}`;
    const there = put.get(key);
    const together = spans === null ? null : unionSpans(there?.spans ?? [], spans);
    put.set(key, { to, quantityMicro: (there?.quantityMicro ?? 0) + quantityMicro, spans: together });
  }
  for (const { to, quantityMicro, spans } of put.values()) {
    if (to.fate === 'count-difference' && spans === null) continue; // a difference of a bulk lot may go either way
    const there = heldAt(lot, to.fate, to.at);
    if (spans === null ? quantityMicro <= there.quantityMicro : coversSpans(there.spans ?? [], spans)) continue;
    const what = spans === null ? formatQuantity(quantityMicro) : `pieces ${formatSpans(spans)}`;
    no.conflict('moved-on', `${what} of ${lot.lot} went on from where the document put them: it cannot be undone`, { lot: lot.lot });
  }
}
