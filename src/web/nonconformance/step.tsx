import type { ReactNode } from 'react';
import { localWritten } from '../app/clock.js';
import { Refer } from '../design/refer.js';
import type { Entry } from './report-parts.js';

export type StepStands = 'done' | 'due' | 'later' | 'beside';

const SAYS: Readonly<Record<StepStands, string>> = { done: 'done', due: 'due now', later: 'to come', beside: '' };

/** A step of a report: what is due now stands open with its form, what is done is folded and can be read. */
export function Step({
  id,
  title,
  stands,
  note,
  children,
}: {
  id: string;
  title: string;
  stands: StepStands;
  note?: ReactNode;
  children: ReactNode;
}) {
  return (
    <details key={stands} id={id} className={`nc-step ${stands}`} open={stands === 'due'}>
      <summary>
        <h2>{title}</h2>
        {SAYS[stands] === '' ? null : <span className="nc-stands">{SAYS[stands]}</span>}
        {note === undefined ? null : <span className="note">{note}</span>}
      </summary>
      <div className="nc-step-body">{children}</div>
    </details>
  );
}

/** What the ledger says of a step, in its own words. */
export function Said({ entries, kinds }: { entries: readonly Entry[]; kinds: readonly string[] }) {
  const said = entries.filter(({ kind }) => kinds.includes(kind));
  if (said.length === 0) return null;
  return (
    <ul className="nc-said">
      {said.map(({ seq, at, actor, says }) => (
        <li key={seq}>
          {says}
          <span className="quiet">
            {' '}
            {localWritten(at)}, <code>{actor}</code>, entry <Refer kind="entry" code={`${seq}`} />
          </span>
        </li>
      ))}
    </ul>
  );
}

/** What somebody else has to do: said where their form would stand. */
export const Turn = ({ who, what }: { who: string; what: string }) => (
  <p className="nc-turn">
    <strong>Waits for {who}</strong> to {what}.
  </p>
);
