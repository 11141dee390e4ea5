import { given } from '../design/form-values.js';
import type { View } from '../wire/client.js';
import { bodyOfMethod, type DraftMethod, draftOfMethod, givesUnit, hasReplicates } from './method-draft.js';

type Characteristic = View<'CharacteristicDto'>;
export type SeverityClass = Characteristic['class'];

/** A characteristic as it is typed: every field of every kind, of which only those of its kind are sent. */
export interface DraftCharacteristic {
  /** Tells it from the others while the list changes. */
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly kind: 'attribute' | 'measured';
  readonly class: SeverityClass;
  readonly procedure: string;
  readonly defect: string;
  readonly per: 'lot' | 'item';
  readonly unit: string;
  readonly lower: string;
  readonly upper: string;
  readonly target: string;
  readonly replicates: string;
  readonly decimals: string;
  readonly rule: 'half-even' | 'half-up';
  readonly instrumentRequired: boolean;
  readonly instrumentKind: string;
  readonly required: boolean;
  /** Measured on each item: of how many of the sample; empty: of all. */
  readonly items: string;
  readonly method: DraftMethod;
}

export const emptyCharacteristic = (id: number, kind: DraftCharacteristic['kind']): DraftCharacteristic =>
  draftOfCharacteristic({ code: '', name: '', kind, class: 'major' }, id);

/** A characteristic as it can be typed over. */
export const draftOfCharacteristic = (one: Characteristic, id: number): DraftCharacteristic => ({
  id,
  code: one.code,
  name: one.name,
  kind: one.kind,
  class: one.class,
  procedure: one.procedure ?? '',
  defect: one.defect ?? '',
  per: one.per ?? 'lot',
  unit: one.unit ?? '',
  lower: one.lower ?? '',
  upper: one.upper ?? '',
  target: one.target ?? '',
  replicates: `${one.replicates ?? 1}`,
  decimals: `${one.rounding?.decimals ?? 3}`,
  rule: one.rounding?.rule ?? 'half-even',
  instrumentRequired: one.instrumentRequired ?? false,
  instrumentKind: one.instrumentKind ?? '',
  required: one.required ?? true,
  items: one.items === undefined ? '' : `${one.items}`,
  method: draftOfMethod(one.compute),
});

const whole = (text: string): number | undefined => (text.trim() === '' ? undefined : Number(text));

/** What is sent for a characteristic. */
export function bodyOfCharacteristic(draft: DraftCharacteristic): Characteristic {
  const head = { code: draft.code.trim(), name: draft.name.trim(), class: draft.class, procedure: given(draft.procedure) };
  if (draft.kind === 'attribute') return { ...head, kind: 'attribute', defect: given(draft.defect) };
  return {
    ...head,
    kind: 'measured',
    per: draft.per,
    unit: givesUnit(draft.method) ? undefined : given(draft.unit),
    lower: given(draft.lower),
    upper: given(draft.upper),
    target: given(draft.target),
    replicates: hasReplicates(draft.method) ? whole(draft.replicates) : undefined,
    compute: bodyOfMethod(draft.method),
    rounding: { decimals: Number(draft.decimals), rule: draft.rule },
    instrumentRequired: draft.instrumentRequired,
    instrumentKind: draft.instrumentRequired ? given(draft.instrumentKind) : undefined,
    required: draft.required,
    items: draft.per === 'item' ? whole(draft.items) : undefined,
  };
}
