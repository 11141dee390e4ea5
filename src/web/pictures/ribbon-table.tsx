import type { RibbonInput, RibbonPart } from '../../../shared/ribbon-layout.js';
import { countPieces, subtractSpans, wholeLot } from '../../../shared/spans.js';
import { writtenCount, writtenSpans } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { isMark, writtenKind } from './ribbon-parts.js';

interface Row {
  readonly key: string;
  readonly strip: string;
  readonly part: RibbonPart;
}

function rowsOf(input: RibbonInput): Row[] {
  const affected = input.affected ?? [];
  const bar: RibbonPart[] = [
    { label: 'affected', kind: 'piece', spans: affected, affected: true },
    {
      label: affected.length === 0 ? 'all' : 'not affected',
      kind: 'piece',
      spans: subtractSpans(wholeLot(input.pieces), affected),
      affected: false,
    },
  ];
  const strips = [...input.above, { label: 'Pieces', parts: bar.filter(({ spans }) => spans.length > 0) }, ...input.below];
  return strips.flatMap(({ label, parts }, at) => parts.map((part, i) => ({ key: `${at} ${i}`, strip: label, part })));
}

const isAffected = ({ affected, kind }: RibbonPart): boolean => affected === true && !isMark(kind);

/** The ribbon's facts as a table, for those who read rather than look. */
export function RibbonTable({
  input,
  marked = null,
  onMark,
}: {
  input: RibbonInput;
  marked?: string | null;
  onMark?: (code: string | null) => void;
}) {
  const rows = rowsOf(input);
  return (
    <details className="same-table">
      <summary>The same as a table</summary>
      <LedgerTable
        caption="The ribbon as a table"
        rows={rows}
        rowKey={({ key }) => key}
        rowClass={({ part }) => (part.kind !== 'piece' && part.label === marked ? 'chosen' : isAffected(part) ? 'affected' : undefined)}
        onRow={onMark && ((row) => onMark(row === null || row.part.kind === 'piece' ? null : row.part.label))}
        columns={[
          { head: 'Strip', cell: ({ strip }) => strip },
          { head: 'What', cell: ({ part }) => part.label },
          { head: 'How', cell: ({ part }) => (part.kind === 'piece' ? '' : writtenKind(part.kind)) },
          ...(rows.some(({ part }) => isAffected(part))
            ? [{ head: 'Affected', cell: ({ part }: Row) => (isAffected(part) ? 'affected' : '') }]
            : []),
          { head: 'Pieces', cell: ({ part }) => writtenSpans(part.spans) },
          { head: 'Count', num: true, cell: ({ part }) => writtenCount(countPieces(part.spans)) },
        ]}
      />
    </details>
  );
}
