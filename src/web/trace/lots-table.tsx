import { memo, useDeferredValue, useMemo, useState } from 'react';
import { Link } from 'wouter';
import type { FlowLot } from '../../../shared/api/flow.js';
import type { TraceAnswer, TracedLot } from '../../../shared/api/trace.js';
import { parseQuantity } from '../../../shared/quantity.js';
import { riverLotId } from '../../../shared/river-of-trace.js';
import { countPieces } from '../../../shared/spans.js';
import { writtenCount, writtenQuantity, writtenShare, writtenSpans } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { PLACE_OF } from '../design/refer.js';
import { Stamps } from '../design/stamp.js';
import { kindWords } from '../pictures/river-words.js';
import { useStamps } from './lot-stamp.js';
import type { Views } from './views.js';

/** So many are drawn at once; more on demand. */
const STEP = 100;

interface Row {
  readonly lot: FlowLot;
  readonly traced: TracedLot | undefined;
  readonly isOrigin: boolean;
}

/** The lots of the river as a table: the affected ones, and on demand those that only went in beside them. */
export function LotsTable({ answer, views }: { answer: TraceAnswer; views: Views }) {
  const [most, setMost] = useState(STEP);
  const [others, setOthers] = useState(false);
  const rows = useMemo(() => rowsOf(answer), [answer]);
  const forward = answer.direction === 'forward';
  const clean = rows.filter(({ lot }) => !lot.affected).length;
  const wanted = others ? rows : rows.filter(({ lot }) => lot.affected);
  const shown = useMemo(() => firstWith(wanted, most, views.chosen), [wanted, most, views.chosen]);
  // Hovering moves faster than a long table is drawn: the mark follows when there is time.
  const marked = useDeferredValue(views.marked);
  return (
    <Section
      title="Lots"
      note={`${writtenCount(rows.length - clean)} ${forward ? 'affected, origin included' : 'that it came from, itself included'}; stamps as they are now`}
      id="lots"
      actions={
        clean === 0 ? undefined : (
          <button type="button" aria-pressed={others} onClick={() => setOthers(!others)}>
            {others ? 'Hide' : 'Show'} {writtenCount(clean)} that only went in beside them
          </button>
        )
      }
    >
      <LotRows rows={shown} forward={forward} marked={marked} chosen={views.chosen} onMark={views.onMark} onChoose={views.onChoose} />
      {wanted.length > shown.length ? (
        <div className="row">
          <p className="quiet">
            {writtenCount(shown.length)} of {writtenCount(wanted.length)} lots
          </p>
          <button type="button" className="no-print" onClick={() => setMost(most + STEP)}>
            Show {writtenCount(Math.min(STEP, wanted.length - shown.length))} more
          </button>
          <button type="button" className="no-print" onClick={() => setMost(wanted.length)}>
            Show all
          </button>
        </div>
      ) : null}
    </Section>
  );
}

function rowsOf({ flow, lots, origin }: TraceAnswer): Row[] {
  const traced = new Map(lots.map((lot) => [lot.lot, lot]));
  const origins = new Set(origin.map(({ lot }) => lot));
  return (flow?.lots ?? [])
    .map((lot) => ({ lot, traced: traced.get(lot.lot), isOrigin: origins.has(lot.lot) }))
    .toSorted((a, b) => stepsOf(a) - stepsOf(b) || (a.lot.lot < b.lot.lot ? -1 : 1));
}

const FAR = 1e9;
const stepsOf = ({ isOrigin, traced }: Row): number => (isOrigin ? 0 : (traced?.depth ?? FAR));

/** The first rows, and before them the chosen one if it comes later. */
function firstWith(rows: readonly Row[], most: number, chosen: string | null): Row[] {
  const first = rows.slice(0, most);
  if (chosen === null || first.some(({ lot }) => riverLotId(lot.lot) === chosen)) return first;
  const later = rows.find(({ lot }) => riverLotId(lot.lot) === chosen);
  return later === undefined ? first : [later, ...first];
}

const LotRows = memo(function LotRows({
  rows,
  forward,
  marked,
  chosen,
  onMark,
  onChoose,
}: { rows: readonly Row[]; forward: boolean } & Views) {
  const codes = useMemo(() => rows.slice(0, 3 * STEP).map(({ lot }) => lot.lot), [rows]);
  const stamps = useStamps(codes);
  const classOf = (row: Row): string => {
    const id = riverLotId(row.lot.lot);
    return [row.lot.affected ? 'affected' : '', id === marked ? 'marked' : '', id === chosen ? 'chosen' : ''].filter(Boolean).join(' ');
  };
  return (
    <LedgerTable
      caption="Lots of the trace"
      rows={rows}
      rowKey={({ lot }) => lot.lot}
      rowClass={classOf}
      onRow={(row) => onMark(row === null ? null : riverLotId(row.lot.lot))}
      columns={[
        { head: 'Lot', cell: ({ lot: { lot } }) => <ChooseLot lot={lot} chosen={chosen} onChoose={onChoose} /> },
        { head: 'Item', cell: ({ lot }) => itemWords(lot) },
        { head: forward ? 'Affected' : 'In it', num: true, cell: ({ lot }) => affectedWords(lot) },
        { head: 'Pieces', cell: ({ lot }) => <Pieces lot={lot} /> },
        ...(forward ? [{ head: 'Share', num: true, cell: ({ traced, isOrigin }: Row) => shareWords(traced, isOrigin) }] : []),
        { head: 'Steps', num: true, cell: (row) => (row.isOrigin ? 'origin' : (row.traced?.depth ?? '')) },
        { head: 'Stamp now', cell: ({ lot: { lot, unit } }) => <Stamps stamps={stamps.get(lot)?.stamps ?? []} unit={unit} small /> },
        { head: 'Page', cell: ({ lot: { lot } }) => <OpenLot lot={lot} /> },
      ]}
      empty={<p className="quiet">The trace reached no lot.</p>}
    />
  );
});

function ChooseLot({ lot, chosen, onChoose }: { lot: string; chosen: string | null; onChoose: Views['onChoose'] }) {
  const id = riverLotId(lot);
  return (
    <button
      type="button"
      className="plain tap code"
      aria-pressed={id === chosen}
      title="Show it in the river and the ribbon"
      onClick={() => onChoose(id === chosen ? null : id)}
    >
      {lot}
    </button>
  );
}

const OpenLot = ({ lot }: { lot: string }) => (
  <Link href={`${PLACE_OF.lot}/${encodeURIComponent(lot)}`} aria-label={`Open ${lot}`}>
    Open
  </Link>
);

function itemWords({ itemName, class: kind, supplierLot }: FlowLot): string {
  return `${itemName}, ${kindWords(kind ?? 'lot', 1)}${supplierLot === null ? '' : `, supplier’s ${supplierLot}`}`;
}

function affectedWords({ affected, pieces, spans, unit, affectedQuantity }: FlowLot): string {
  if (!affected) return 'no';
  if (pieces === null || spans === null) return writtenQuantity(parseQuantity(affectedQuantity), unit);
  return `${writtenCount(countPieces(spans))} of ${writtenCount(pieces)}`;
}

/** So many stretches of pieces are read at a glance; the rest is in the CSV. */
const STRETCHES = 4;

function Pieces({ lot: { spans, pieces } }: { lot: FlowLot }) {
  if (spans === null || spans.length === 0) return null;
  if (countPieces(spans) === pieces) return <>all</>;
  if (spans.length <= STRETCHES) return <>{writtenSpans(spans)}</>;
  return (
    <details className="trace-spans">
      <summary>
        {writtenSpans(spans.slice(0, STRETCHES - 1))} and {writtenCount(spans.length - STRETCHES + 1)} more stretches
      </summary>
      {writtenSpans(spans)}
    </details>
  );
}

function shareWords(traced: TracedLot | undefined, isOrigin: boolean): string {
  if (isOrigin || traced === undefined) return '';
  return traced.share === null ? 'counted' : writtenShare(traced.share);
}
