import { Link } from 'wouter';
import { formatSpans, intersectSpans, type SpanSet } from '../../../shared/spans.js';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { askedWith, type Lot } from './lot.js';
import { amountOf, briefPieces, spansIn } from './words.js';

type LotLink = Lot['madeFrom'][number];

interface LinksProps {
  lot: Lot;
  selection: SpanSet;
  marked: string | null;
  onMark: (code: string | null) => void;
}

const pieces = (text: string | null): string => (text === null ? 'all of it' : briefPieces(spansIn(text)));

/** What the lot was made of. With pieces selected, only what is in those. */
export function MadeFrom({ lot, selection, ...mark }: LinksProps) {
  const shown = lot.madeFrom.filter(({ toPieces }) => touches(toPieces, selection));
  return (
    <Section
      title="Made from"
      note={noteOf(lot.madeFrom.length, shown.length)}
      actions={
        <Link className="button" href={askedWith('/trace', lot, formatSpans(selection), { direction: 'backward' })}>
          Trace backward
        </Link>
      }
    >
      <LinkTable
        {...mark}
        caption={`What ${lot.lot} was made from`}
        links={shown}
        here={({ toPieces }) => pieces(toPieces)}
        there={({ fromPieces }) => pieces(fromPieces)}
        unit={null}
        empty={
          lot.origin === 'received' ? 'It was received as it is: the trace ends at its supplier.' : 'No link says what it was made from.'
        }
      />
    </Section>
  );
}

/** What the lot was made into. */
export function WentInto({ lot, selection, ...mark }: LinksProps) {
  const shown = lot.wentInto.filter(({ fromPieces }) => touches(fromPieces, selection));
  return (
    <Section
      title="Went into"
      note={noteOf(lot.wentInto.length, shown.length)}
      actions={
        <Link className="button" href={askedWith('/trace', lot, formatSpans(selection), { direction: 'forward' })}>
          Trace forward
        </Link>
      }
    >
      <LinkTable
        {...mark}
        caption={`What ${lot.lot} went into`}
        links={shown}
        here={({ fromPieces }) => pieces(fromPieces)}
        there={({ toPieces }) => pieces(toPieces)}
        unit={lot.unit}
        empty="Nothing was made from it."
      />
    </Section>
  );
}

const touches = (text: string | null, selection: SpanSet): boolean =>
  text === null || selection.length === 0 || intersectSpans(spansIn(text), selection).length > 0;

const noteOf = (all: number, shown: number): string =>
  all === shown
    ? `${writtenCount(all)} ${all === 1 ? 'link' : 'links'}`
    : `${writtenCount(shown)} of ${writtenCount(all)} links: those of the pieces selected`;

function LinkTable({
  caption,
  links,
  here,
  there,
  unit,
  empty,
  marked,
  onMark,
}: {
  caption: string;
  links: readonly LotLink[];
  here: (link: LotLink) => string;
  there: (link: LotLink) => string;
  /** Of the quantity, which is in the unit of the lot that went in; null: that of the other lot, not told here. */
  unit: string | null;
  empty: string;
  marked: string | null;
  onMark: (code: string | null) => void;
}) {
  return (
    <LedgerTable
      caption={caption}
      rows={links}
      rowKey={({ link }) => link}
      rowClass={({ lot }) => (lot === marked ? 'chosen' : undefined)}
      onRow={(row) => onMark(row?.lot ?? null)}
      columns={[
        { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
        { head: 'Item', cell: ({ itemName }) => itemName },
        { head: 'Its pieces', cell: there },
        { head: 'Pieces of this lot', cell: here },
        { head: 'Quantity', num: true, cell: ({ quantity }) => (unit === null ? quantity : amountOf(quantity, unit)) },
        { head: 'Run', cell: ({ run }) => <Refer kind="run" code={run} /> },
        { head: 'How', cell: ({ kind, map }) => `${kind}${map === 'each' ? ', piece by piece' : ''}` },
        { head: 'When', cell: ({ at }) => localWritten(at) },
      ]}
      empty={
        <Empty>
          <p>{empty}</p>
        </Empty>
      }
    />
  );
}
