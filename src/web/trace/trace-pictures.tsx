import { useMemo } from 'react';
import { Link } from 'wouter';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { Section } from '../design/page.js';
import { PLACE_OF } from '../design/refer.js';
import { River } from '../pictures/river.js';
import { LotRibbon } from './lot-ribbon.js';
import { LotStamp } from './lot-stamp.js';
import { addressOf, originWords, type Question } from './question.js';
import { customerOf, lotOf, type Views } from './views.js';

/** River, and the ribbon of the lot that was chosen, or of the first numbered one. */
export function TracePictures({ question, answer, views }: { question: Question; answer: TraceAnswer; views: Views }) {
  const { flow } = answer;
  const origins = useMemo(() => answer.origin.map(({ lot }) => lot), [answer]);
  const shares = useMemo(() => new Map(answer.lots.map(({ lot, share }) => [lot, share])), [answer]);
  const label = `${question.direction} from ${originWords(question.origin)}`;
  if (flow === undefined) return null;
  return (
    <>
      <Section title="River" note={`${label} · width by quantity`} id="river">
        <River
          flow={flow}
          label={label}
          origins={origins}
          shares={shares}
          inked={question.direction === 'forward' ? 'affected' : 'in it'}
          {...views}
          stampsOf={(lot) => <LotStamp lot={lot} />}
          actionsOf={(id) => (id === views.chosen ? <NodeActions id={id} question={question} /> : null)}
        />
      </Section>
      <LotRibbon question={question} answer={answer} views={views} />
    </>
  );
}

function NodeActions({ id, question }: { id: string; question: Question }) {
  const lot = lotOf(id);
  const { asKnownAt } = question;
  if (lot !== null) {
    return (
      <>
        <Link className="button" href={`${PLACE_OF.lot}/${encodeURIComponent(lot)}`}>
          Open {lot}
        </Link>
        <Link
          className="button"
          href={addressOf({ origin: { lot }, direction: 'forward', asKnownAt })}
          aria-label={`Trace it forward: ${lot}`}
        >
          Trace it forward
        </Link>
        <Link
          className="button"
          href={addressOf({ origin: { lot }, direction: 'backward', asKnownAt })}
          aria-label={`Trace it backward: ${lot}`}
        >
          Trace it backward
        </Link>
      </>
    );
  }
  const code = customerOf(id);
  if (code === null) return null;
  return (
    <Link className="button" href={`${PLACE_OF.party}/${encodeURIComponent(code)}`}>
      Open {code}
    </Link>
  );
}
