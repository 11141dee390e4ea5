import type { NonconformanceReport, ReportFile } from './nonconformance.types.js';
import type { Block, Photograph } from './sheet.model.js';
import { writtenCount, writtenHash, writtenInstant } from '../../../shared/written.js';

/**
 * Photographs, and the files that are not printed by name and hash: whoever holds one can tell that it is the one meant.
 * @see docs/rules/nonconformance.md NR-53
 */
export function filesAndPhotographs({ files }: NonconformanceReport): Block[] {
  const photographs = files.flatMap((file) => (file.picture === null ? [] : [photograph(file, file.picture)]));
  const others = files.filter((file) => file.picture === null);
  return [
    { kind: 'heading', level: 2, text: 'Photographs and files' },
    ...(files.length === 0 ? [{ kind: 'paragraph' as const, text: 'None were kept.' }] : []),
    ...(photographs.length === 0 ? [] : [{ kind: 'photographs' as const, photographs }]),
    ...(others.length === 0 ? [] : [fileTable(others)]),
  ];
}

const photograph = (file: ReportFile, picture: NonNullable<ReportFile['picture']>): Photograph => ({
  ...picture,
  alt: `Photograph ${file.name}, of ${file.of}`,
  caption: `${file.name}, of ${file.of}`,
  note: `SHA-256 ${writtenHash(file.sha256)}`,
});

const fileTable = (files: readonly ReportFile[]): Block => ({
  kind: 'table',
  summary: 'Files that are not printed here, by name and hash',
  columns: [
    { head: 'File', share: 34 },
    { head: 'Of', share: 18 },
    { head: 'Why it is not printed', share: 22 },
    { head: 'SHA-256 of its content', share: 40 },
  ],
  rows: files.map((file) => ({
    kind: 'row',
    cells: [
      [{ text: file.name }, { text: `${file.mediaType}, ${writtenCount(file.bytes)} bytes`, look: 'quiet' }],
      file.of,
      file.notPrinted ?? '',
      writtenHash(file.sha256),
    ],
  })),
  empty: '',
});

/** Every entry about the report, in plain words. */
export function timeline({ timeline: entries }: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Timeline' },
    {
      kind: 'table',
      summary: 'What happened, by ledger entry',
      columns: [
        { head: 'Entry', share: 9, align: 'right' },
        { head: 'When', share: 29 },
        { head: 'Who', share: 20 },
        { head: 'What', share: 65 },
      ],
      rows: entries.map(({ seq, at, who, what }) => ({ kind: 'row', cells: [writtenCount(seq), writtenInstant(at), who, what] })),
      empty: 'Nothing is recorded.',
    },
  ];
}

export function ledgerPosition({ asKnownAt, report }: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Ledger position' },
    {
      kind: 'facts',
      facts: [
        { label: 'As known at entry', value: `${writtenCount(asKnownAt.seq)}, of ${writtenInstant(asKnownAt.at)}` },
        { label: 'Chain hash', value: [{ text: writtenHash(asKnownAt.hash), look: 'code' }] },
      ],
    },
    {
      kind: 'paragraph',
      quiet: true,
      text:
        `The hash stands for every entry up to this one. Asked for again as known at entry ${writtenCount(asKnownAt.seq)}, report ${report} ` +
        'says the same; printed names are those kept beside the ledger, where they can be erased.',
    },
  ];
}
