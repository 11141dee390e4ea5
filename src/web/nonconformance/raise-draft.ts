import type { View } from '../wire/client.js';
import { instantOfLocal } from '../app/clock.js';
import { given } from '../design/form-values.js';
import type { StoredFile } from '../wire/upload-file.js';
import type { Severity, Source } from './words.js';

export interface PartDraft {
  readonly id: number;
  readonly lot: string;
  readonly pieces: string;
  readonly quantity: string;
}

export interface DefectDraft {
  readonly id: number;
  readonly defect: string;
  readonly count: string;
}

/** A report that somebody is in the middle of writing. Every field is text as it was typed. */
export interface RaiseDraft {
  readonly source: Source;
  readonly sourceCode: string;
  readonly severity: Severity | '';
  readonly requirement: string;
  readonly found: string;
  readonly measured: string;
  readonly foundAt: string;
  readonly defects: readonly DefectDraft[];
  readonly parts: readonly PartDraft[];
  readonly files: readonly StoredFile[];
  /** Everything made from the one part is affected too. */
  readonly forward: boolean;
}

/** What the report is raised from, where it is not from scratch. */
export interface RaiseFrom {
  readonly inspection: string | null;
  readonly recall: string | null;
  /** A trace that has no lot to start at. */
  readonly trace: Omit<View<'TracedFromDto'>, 'lot' | 'pieces'> | null;
  readonly parts: readonly Omit<PartDraft, 'id'>[];
  readonly source: Source;
  readonly sourceCode: string;
}

const SOURCES: readonly string[] = ['delivery', 'inspection', 'test', 'run', 'unit', 'instrument', 'return', 'complaint', 'audit'];

/**
 * What an address asks for: `?inspection=IN-…`, `?lot=…&pieces=…` (again and again for several lots, `pieces` in the same order, empty for
 * all), `?recall=RC-…`, `?supplierLot=…`, `?run=…`, `?vessel=…&at=…`, and where it was found: `?source=return&code=RT-…`.
 */
export function raiseFrom(search: string): RaiseFrom {
  const asked = new URLSearchParams(search);
  const pieces = asked.getAll('pieces');
  const quantities = asked.getAll('quantity');
  const traced = Object.fromEntries(
    ['supplierLot', 'run', 'vessel', 'at'].flatMap((key) => (asked.has(key) ? [[key, asked.get(key) ?? '']] : [])),
  );
  const source = asked.get('source') ?? '';
  return {
    inspection: asked.get('inspection'),
    recall: asked.get('recall'),
    trace: Object.keys(traced).length === 0 ? null : traced,
    parts: asked.getAll('lot').map((lot, i) => ({ lot, pieces: pieces[i] ?? '', quantity: quantities[i] ?? '' })),
    source: SOURCES.includes(source) ? (source as Source) : 'inspection',
    sourceCode: asked.get('code') ?? '',
  };
}

export const emptyDraft = (from: RaiseFrom): RaiseDraft => ({
  source: from.source,
  sourceCode: from.sourceCode,
  severity: '',
  requirement: '',
  found: '',
  measured: '',
  foundAt: '',
  defects: [],
  parts: from.parts.map((part, id) => ({ id, ...part })),
  files: [],
  forward: false,
});

/** Free number for another line. */
export const nextId = (lines: readonly { readonly id: number }[]): number => Math.max(-1, ...lines.map(({ id }) => id)) + 1;

const some = <Value>(list: readonly Value[]): Value[] | undefined => (list.length === 0 ? undefined : [...list]);

/**
 * The command: what was left empty is left out, so that an inspection can fill it in.
 * @param now when it is raised: it may be sent much later
 */
export function raiseBody(draft: RaiseDraft, from: RaiseFrom, now: string): Omit<View<'RaiseReportDto'>, 'commandId'> {
  const parts = draft.parts.map(({ lot, pieces, quantity }) => ({ lot: lot.trim(), pieces: given(pieces), quantity: given(quantity) }));
  const [only] = parts;
  const forward = draft.forward && parts.length === 1 && only !== undefined;
  const measured = draft.measured
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');
  return {
    fromInspection: from.inspection ?? undefined,
    fromTrace: forward ? { lot: only.lot, pieces: only.pieces } : (from.trace ?? undefined),
    source: from.inspection === null ? { kind: draft.source, code: given(draft.sourceCode) } : undefined,
    requirement: given(draft.requirement),
    found: given(draft.found),
    severity: draft.severity === '' ? undefined : draft.severity,
    foundAt: draft.foundAt === '' ? now : instantOfLocal(draft.foundAt),
    measured: some(measured),
    files: some(draft.files.map(({ sha256 }) => sha256)),
    defects: some(
      draft.defects.map(({ defect, count }) => ({ defect: defect.trim(), count: count.trim() === '' ? undefined : Number(count) })),
    ),
    parts: forward ? undefined : some(parts),
  };
}
