import { given } from '../design/form-values.js';
import type { BodyOf } from '../wire/use-command.js';

export type DeliveryBody = BodyOf<'/api/deliveries'>;

/** A line as it is typed or scanned: one supplier lot. */
export interface DraftLine {
  readonly item: string;
  readonly quantity: string;
  readonly supplierLot: string;
  readonly expiresOn: string;
  readonly madeOn: string;
  readonly containers: string;
  /** Serials, one a line. */
  readonly serials: string;
}

/** A delivery in the making. Everything is text as it was typed, so that nothing typed is lost or improved. */
export interface Draft {
  readonly supplier: string;
  readonly documentType: string;
  readonly document: string;
  readonly location: string;
  readonly condition: string;
  readonly receivedAt: string;
  readonly note: string;
  readonly lines: readonly DraftLine[];
}

export const EMPTY_LINE: DraftLine = { item: '', quantity: '', supplierLot: '', expiresOn: '', madeOn: '', containers: '', serials: '' };

export const EMPTY_DRAFT: Draft = {
  supplier: '',
  documentType: 'delivery note',
  document: '',
  location: '',
  condition: '',
  receivedAt: '',
  note: '',
  lines: [],
};

export const serialsOf = (line: Pick<DraftLine, 'serials'>): string[] =>
  line.serials
    .split('\n')
    .map((one) => one.trim())
    .filter(Boolean);

/** What is sent for a draft. @param receivedAt when the goods arrived, as an instant */
export function bodyOfDraft(draft: Draft, receivedAt: string): DeliveryBody {
  return {
    supplier: draft.supplier.trim(),
    documentType: draft.documentType.trim(),
    document: draft.document.trim(),
    location: draft.location.trim(),
    condition: draft.condition.trim(),
    receivedAt,
    note: given(draft.note),
    lines: draft.lines.map((line) => ({
      item: line.item.trim(),
      quantity: line.quantity.trim(),
      supplierLot: given(line.supplierLot),
      expiresOn: given(line.expiresOn),
      madeOn: given(line.madeOn),
      containers: given(line.containers) === undefined ? undefined : Number(line.containers),
      serials: serialsOf(line).length === 0 ? undefined : serialsOf(line),
    })),
  };
}

/** The draft that a body came from: a delivery that was kept and refused goes back into the form. The time is left as it was sent. */
export function draftOfBody(body: DeliveryBody): Draft {
  return {
    ...EMPTY_DRAFT,
    supplier: body.supplier,
    documentType: body.documentType,
    document: body.document,
    location: body.location,
    condition: body.condition,
    note: body.note ?? '',
    lines: body.lines.map((line) => ({
      item: line.item,
      quantity: line.quantity,
      supplierLot: line.supplierLot ?? '',
      expiresOn: line.expiresOn ?? '',
      madeOn: line.madeOn ?? '',
      containers: line.containers === undefined ? '' : `${line.containers}`,
      serials: line.serials?.join('\n') ?? '',
    })),
  };
}
