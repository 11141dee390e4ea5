import { useEffect } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { server } from '../wire/client.js';
import { addressOf, type Question } from './question.js';
import type { Ask } from './use-question.js';
import { Link } from 'wouter';

/** So many lots are traced together at most, as the API has it. */
const MOST = 200;

/** Codes pasted in one go, each once. */
export const codesIn = (text: string): string[] => [...new Set(text.split(/[\s,;]+/u).filter((code) => code !== ''))];

/** Several codes at once: all of them lots, and they are traced together; otherwise what is not a lot is said. */
export function SeveralCodes({ codes, question, ask }: { codes: readonly string[]; question: Question; ask: Ask }) {
  const asked = codes.slice(0, MOST);
  const query = server.useQuery('get', '/api/lots', { params: { query: { lots: asked, limit: MOST } } });
  const known = new Set((query.data?.lots ?? []).map(({ lot }) => lot));
  const lots = asked.filter((code) => known.has(code));
  const others = asked.filter((code) => !known.has(code));
  const all = query.data !== undefined && lots.length === codes.length;
  useEffect(() => {
    if (all) ask({ origin: { lots }, text: null, chosen: null });
    // oxlint-disable-next-line react-hooks/exhaustive-deps -- once, when it is known
  }, [all]);
  if (all) return null;
  return (
    <Answered query={query} what="which of these are lots">
      {() => (
        <section className="trace-candidates" aria-label="Several codes">
          <p role="status">
            {writtenCount(codes.length)} codes, {writtenCount(lots.length)} of them lots.
            {codes.length > MOST ? ` Only the first ${MOST} were looked up: no more are traced together.` : null}
          </p>
          {others.length === 0 ? null : (
            <>
              <p>These are no lots. Look at them one by one:</p>
              <ul className="trace-others">
                {others.map((code) => (
                  <li key={code}>
                    <Link className="tap code" href={addressOf({ ...question, origin: {}, text: code, chosen: null })}>
                      {code}
                    </Link>
                  </li>
                ))}
              </ul>
            </>
          )}
          {lots.length === 0 ? null : (
            <Link className="button" href={addressOf({ ...question, origin: { lots }, text: null, chosen: null })}>
              Trace {lots.length === 1 ? 'the one that is a lot' : `the ${writtenCount(lots.length)} that are lots`}
            </Link>
          )}
        </section>
      )}
    </Answered>
  );
}
