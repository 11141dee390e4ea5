import { Link } from 'wouter';
import type { Reason } from '../../../shared/refusal.js';
import type { Problem } from '../wire/problem.js';
import { PLACE_OF } from './refer.js';

/** The records a reason names: each is a way to put things right, one press away. What it says there is none of cannot be seen. */
function namedIn(reason: Reason): { kind: keyof typeof PLACE_OF; code: string }[] {
  return (Object.keys(PLACE_OF) as (keyof typeof PLACE_OF)[]).flatMap((kind) => {
    const code = reason[kind];
    const exists = reason.code !== `${kind}-unknown`;
    return typeof code === 'string' && exists ? [{ kind, code }] : [];
  });
}

/** Where what a reason names can be put right. What the record does not know has no page to go to. */
export function WaysOut({ reason }: { reason: Reason }) {
  if (reason.code.endsWith('-unknown')) return null;
  return (
    <>
      {namedIn(reason).map(({ kind, code }) => (
        <span key={kind}>
          {' '}
          <Link href={`${PLACE_OF[kind]}/${encodeURIComponent(code)}`}>See {code}</Link>
        </span>
      ))}
    </>
  );
}

/** A reason and, next to it, where it can be put right. */
export function ReasonLine({ reason }: { reason: Reason }) {
  return (
    <>
      {reason.detail}
      <WaysOut reason={reason} />
    </>
  );
}

/** A refusal with every reason. */
export function Refused({ problem }: { problem: Problem }) {
  return (
    <div className="summary" role="alert">
      <h2>{problem.title}</h2>
      {problem.reasons.length === 0 ? (
        <p>{problem.detail}</p>
      ) : (
        <ul>
          {problem.reasons.map((reason) => (
            <li key={`${reason.code} ${reason.detail}`}>
              <ReasonLine reason={reason} />
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
