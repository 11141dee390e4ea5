import { useEffect, useId, useRef, useState } from 'react';
import { keepPreviousData } from '@tanstack/react-query';
import { localWritten } from '../app/clock.js';
import { writtenCount } from '../../../shared/written.js';
import { server } from '../wire/client.js';

/** A hand that slides is not answered at every entry it passes. */
const SETTLE_MS = 250;
const READ_MS = 60;
/** Where dates stand under the slider, as parts of its length. */
const TICKS = [0, 0.25, 0.5, 0.75, 1];

/** When an entry was written. What is written never changes. */
function useEntryTime(seq: number | null): string | null {
  const query = server.useQuery(
    'get',
    '/api/ledger/entries',
    { params: { query: { from: seq ?? 1, limit: 1 } } },
    { enabled: seq !== null && seq > 0, staleTime: Infinity, placeholderData: keepPreviousData },
  );
  return seq === null ? null : (query.data?.told[0]?.at ?? null);
}

function useSettled<Value>(value: Value, ms: number): Value {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), ms);
    return () => clearTimeout(timer);
  }, [value, ms]);
  return settled;
}

/** The ledger as a rule to slide along: the page then shows what was known at that entry. */
export function KnownAt({ seq, onSeq }: { seq: number | null; onSeq: (seq: number | null) => void }) {
  const ledger = server.useQuery('get', '/api/ledger/entries', { params: { query: { limit: 1 } } });
  const last = ledger.data?.entries ?? 0;
  if (last === 0) return null;
  return <Slider key={`${last}`} seq={seq} last={last} onSeq={onSeq} />;
}

function Slider({ seq, last, onSeq }: { seq: number | null; last: number; onSeq: (seq: number | null) => void }) {
  const id = useId();
  const [draft, setDraft] = useState(seq);
  const asked = useRef(seq);
  // The address is changed from elsewhere too: by going back, by a link.
  useEffect(() => {
    if (seq === asked.current) return;
    asked.current = seq;
    setDraft(seq);
  }, [seq]);
  useEffect(() => {
    if (draft === asked.current) return undefined;
    const timer = setTimeout(() => {
      asked.current = draft;
      onSeq(draft);
    }, SETTLE_MS);
    return () => clearTimeout(timer);
  }, [draft, onSeq]);

  const at = Math.min(draft ?? last, last);
  const time = useEntryTime(useSettled(at, READ_MS));
  const when = time === null ? '' : localWritten(time);
  const set = (value: number): void => {
    if (Number.isInteger(value) && value >= 1 && value <= last) setDraft(value === last ? null : value);
  };
  return (
    <section className="known-at no-print" aria-label="As known at">
      <div className="known-at-slide">
        <label htmlFor={`${id}-slide`}>
          As known at entry {writtenCount(at)} of {writtenCount(last)}
          {when === '' ? '' : `, ${when}`}
          {draft === null ? ' (now)' : ''}
        </label>
        <input
          id={`${id}-slide`}
          type="range"
          min={1}
          max={last}
          value={at}
          aria-valuetext={`entry ${at} of ${last}${when === '' ? '' : `, ${when}`}`}
          onChange={(event) => set(event.target.valueAsNumber)}
        />
        <div className="known-at-ticks" aria-hidden="true">
          {TICKS.map((part) => (
            <Tick key={part} seq={Math.max(1, Math.round(last * part))} />
          ))}
        </div>
      </div>
      <div className="field">
        <label htmlFor={`${id}-entry`}>Entry</label>
        <input
          id={`${id}-entry`}
          type="number"
          inputMode="numeric"
          min={1}
          max={last}
          value={at}
          onChange={(event) => set(event.target.valueAsNumber)}
        />
      </div>
      <button type="button" disabled={draft === null} onClick={() => setDraft(null)}>
        Now
      </button>
    </section>
  );
}

function Tick({ seq }: { seq: number }) {
  const time = useEntryTime(seq);
  return <span>{time === null ? '' : localWritten(time).split(',')[0]}</span>;
}
