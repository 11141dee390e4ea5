import { given } from '../design/form-values.js';
import type { View } from '../wire/client.js';

type Compute = View<'ComputeDto'>;

/** How readings become a value, as it is typed: every field of every method, of which only those of its kind are sent. */
export interface DraftMethod {
  readonly kind: Compute['kind'];
  readonly massUnit: 'kg' | 'g';
  readonly volumeUnit: 'L' | 'mL';
  readonly l: string;
  readonly a: string;
  readonly b: string;
  readonly nominal: string;
  readonly unit: 'g' | 'kg' | 'mL' | 'L';
  readonly weighed: 'net' | 'gross-and-tare';
  readonly density: string;
  readonly rules: 'packer' | 'reference';
  readonly allowedShort: string;
  readonly destructive: boolean;
}

export const METHODS: readonly { readonly value: Compute['kind']; readonly says: string }[] = [
  { value: 'single', says: 'one reading' },
  { value: 'mean', says: 'mean of readings' },
  { value: 'range', says: 'range of readings' },
  { value: 'density', says: 'density' },
  { value: 'colour-difference', says: 'colour difference' },
  { value: 'net-content', says: 'net content' },
];

/** Whether the method says in which unit its value is. */
export const givesUnit = ({ kind }: Pick<DraftMethod, 'kind'>): boolean =>
  kind === 'density' || kind === 'colour-difference' || kind === 'net-content';

/** Whether a plan says how many readings make one result: one reading is one, and the reference test's number depends on the batch. */
export const hasReplicates = ({ kind, rules }: Pick<DraftMethod, 'kind' | 'rules'>): boolean =>
  kind !== 'single' && !(kind === 'net-content' && rules === 'reference');

/** Whether the content on the label is a volume, which is weighed by its density. */
export const isVolume = ({ unit }: Pick<DraftMethod, 'unit'>): boolean => unit === 'mL' || unit === 'L';

export const draftOfMethod = (of: Compute | undefined): DraftMethod => ({
  kind: of?.kind ?? 'single',
  massUnit: of?.massUnit ?? 'g',
  volumeUnit: of?.volumeUnit ?? 'mL',
  l: of?.standard?.l ?? '',
  a: of?.standard?.a ?? '',
  b: of?.standard?.b ?? '',
  nominal: of?.nominal ?? '',
  unit: of?.unit ?? 'g',
  weighed: of?.weighed ?? 'net',
  density: of?.density ?? '',
  rules: of?.rules ?? 'packer',
  allowedShort: of?.allowedShort === undefined ? '' : `${of.allowedShort}`,
  destructive: of?.destructive ?? false,
});

/** What is sent for a method. */
export function bodyOfMethod(draft: DraftMethod): Compute {
  const { kind } = draft;
  if (kind === 'density') return { kind, massUnit: draft.massUnit, volumeUnit: draft.volumeUnit };
  if (kind === 'colour-difference') return { kind, standard: { l: draft.l.trim(), a: draft.a.trim(), b: draft.b.trim() } };
  if (kind !== 'net-content') return { kind };
  const { unit, weighed, rules } = draft;
  const content = { kind, nominal: given(draft.nominal), unit, weighed, density: isVolume(draft) ? given(draft.density) : undefined };
  return rules === 'packer'
    ? { ...content, rules, allowedShort: given(draft.allowedShort) === undefined ? undefined : Number(draft.allowedShort) }
    : { ...content, rules, destructive: draft.destructive };
}
