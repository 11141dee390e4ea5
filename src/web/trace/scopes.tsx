import { memo, useMemo, useState } from 'react';
import type { NarrowedLot, TraceAnswer } from '../../../shared/api/trace.js';
import { writtenCount, writtenPieces, writtenSpans } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { type ScopeFigures, scopesOf, type TraceFigures } from './figures.js';
import type { Shown } from './question.js';
import type { Ask } from './use-question.js';

const SCOPES: readonly { readonly value: Shown; readonly title: string; readonly says: string }[] = [
  { value: 'narrow', title: 'Narrow', says: 'the pieces that the record says were reached' },
  { value: 'conservative', title: 'Conservative', says: 'whole lots, as if no piece had been recorded' },
];

/** Both scopes side by side, which of them is shown, and what the difference rests on. */
export const Scopes = memo(function Scopes({
  answer,
  figures,
  shown,
  ask,
}: {
  answer: TraceAnswer;
  figures: TraceFigures;
  shown: Shown;
  ask: Ask;
}) {
  const scopes = useMemo(() => scopesOf(answer, figures), [answer, figures]);
  if (scopes === null) return null;
  const narrowings = answer.conservative?.narrowings ?? [];
  const same = narrowings.length === 0;
  return (
    <Section title="Scope" note={same ? 'both scopes are the same here; the origin is counted in' : 'the origin is counted in'}>
      <div className="scopes" role="group" aria-label="Scope to show">
        {SCOPES.map(({ value, title, says }) => (
          <button key={value} type="button" className="scope" aria-pressed={shown === value} onClick={() => ask({ shown: value })}>
            <span className="scope-name">
              {title}
              {shown === value ? <small>shown below</small> : null}
            </span>
            <span className="scope-says">{says}</span>
            <Totals totals={scopes[value]} />
          </button>
        ))}
      </div>
      {same ? null : <Evidence narrowings={narrowings} morePieces={scopes.conservative.pieces - scopes.narrow.pieces} />}
    </Section>
  );
});

const Totals = ({ totals: { pieces, lots, consignees, dispatchedPieces } }: { totals: ScopeFigures }) => (
  <span className="scope-totals">
    <strong>{writtenPieces(pieces)}</strong> in {writtenCount(lots)} {lots === 1 ? 'lot' : 'lots'}, {writtenCount(consignees)}{' '}
    {consignees === 1 ? 'consignee' : 'consignees'}, {writtenCount(dispatchedPieces)} dispatched
  </span>
);

const FIRST = 25;

/** For every lot that the narrow scope keeps wholly or partly out, the entries that say so. */
function Evidence({ narrowings, morePieces }: { narrowings: readonly NarrowedLot[]; morePieces: number }) {
  const [all, setAll] = useState(false);
  const rows = all ? narrowings : narrowings.slice(0, FIRST);
  return (
    <details className="trace-evidence">
      <summary>
        What keeps {writtenPieces(morePieces)} out of the narrow scope: {writtenCount(narrowings.length)}{' '}
        {narrowings.length === 1 ? 'lot' : 'lots'}, with the evidence
      </summary>
      <LedgerTable
        caption="Lots that the narrow scope keeps wholly or partly out, and the entries that this rests on"
        rows={rows}
        rowKey={({ lot }) => lot}
        columns={[
          { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
          { head: 'Kept out', num: true, cell: ({ pieces }) => (pieces === null ? 'all of it' : writtenCount(pieces)) },
          { head: 'Pieces', cell: ({ keptOut }) => (keptOut === null ? '' : writtenSpans(keptOut)) },
          { head: 'Because', cell: (one) => <Because one={one} /> },
        ]}
      />
      {rows.length === narrowings.length ? null : (
        <button type="button" onClick={() => setAll(true)}>
          Show all {writtenCount(narrowings.length)}
        </button>
      )}
    </details>
  );
}

const span = (of: readonly [number, number] | null): string => (of === null ? '' : ` ${writtenSpans([of])}`);

function Because({ one: { evidence, through } }: { one: NarrowedLot }) {
  return (
    <ul className="trace-plain-list">
      {evidence.map(({ link, from, fromSpan, to, toSpan }) => (
        <li key={link}>
          Entry <Refer kind="entry" code={link.split('.')[0] ?? link} />:{' '}
          <code>
            {from}
            {span(fromSpan)}
          </code>{' '}
          went into{' '}
          <code>
            {to}
            {span(toSpan)}
          </code>{' '}
          only
        </li>
      ))}
      {through.length === 0 ? null : (
        <li>
          It would come through{' '}
          {through.map((lot, i) => (
            <span key={lot}>
              {i === 0 ? '' : ', '}
              <Refer kind="lot" code={lot} />
            </span>
          ))}
          , kept out for the reason given there
        </li>
      )}
    </ul>
  );
}
