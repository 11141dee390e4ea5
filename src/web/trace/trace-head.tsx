import { memo } from 'react';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { writtenCount, writtenInstant } from '../../../shared/written.js';
import { Facts } from '../design/page.js';
import { type TraceFigures, writtenBulk, writtenWhole } from './figures.js';
import { csvAddress, type Direction, type Question } from './question.js';
import type { Ask } from './use-question.js';

const DIRECTIONS: readonly { readonly value: Direction; readonly says: string }[] = [
  { value: 'forward', says: 'Forward: where it went' },
  { value: 'backward', says: 'Backward: where it came from' },
];

/** Totals first, as known at which entry, and what can be done with the whole of it. */
export const TraceHead = memo(function TraceHead({
  question,
  answer,
  figures,
  ask,
}: {
  question: Question;
  answer: TraceAnswer;
  figures: TraceFigures;
  ask: Ask;
}) {
  const { lots, pieces, consignees, dispatched, onHand } = figures;
  const { seq, at } = answer.asKnownAt;
  const bulk = writtenBulk(figures);
  return (
    <>
      <div className="trace-head">
        <Facts
          facts={[
            { label: 'Lots, origin included', value: writtenCount(lots), warn: question.direction === 'forward' },
            { label: 'Pieces', value: writtenCount(pieces) },
            ...(bulk === '' ? [] : [{ label: 'In bulk', value: bulk }]),
            // Backward, where the rest of what went into it is now says nothing about it.
            ...(question.direction === 'backward'
              ? []
              : [
                  { label: 'Consignees', value: writtenCount(consignees), warn: consignees > 0 },
                  { label: 'Dispatched', value: writtenWhole(dispatched) },
                  { label: 'On hand', value: writtenWhole(onHand) },
                ]),
          ]}
        />
      </div>
      <p className="trace-known" role="status">
        As known at entry {writtenCount(seq)}
        {at === null ? '' : `, ${writtenInstant(at)}`} · {question.shown === 'narrow' ? 'narrow' : 'conservative'} scope shown
      </p>
      <div className="row no-print trace-actions">
        <div className="row" role="group" aria-label="Direction">
          {DIRECTIONS.map(({ value, says }) => (
            <button key={value} type="button" aria-pressed={question.direction === value} onClick={() => ask({ direction: value })}>
              {says}
            </button>
          ))}
        </div>
        <div className="row">
          <a className="button" href={csvAddress(question, seq)} download>
            Every piece as CSV
          </a>
          <button type="button" onClick={() => window.print()}>
            Print, or save as PDF
          </button>
        </div>
      </div>
    </>
  );
});
