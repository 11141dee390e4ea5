import { keepPreviousData } from '@tanstack/react-query';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { writtenCount } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { Notice } from '../design/page.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { server } from '../wire/client.js';
import { figuresOf } from './figures.js';
import type { Question } from './question.js';
import type { Ask } from './use-question.js';
import type { Views } from './views.js';
import { queryOf } from './question.js';
import { TracePictures } from './trace-pictures.js';
import { Scopes } from './scopes.js';
import { TraceHead } from './trace-head.js';
import { TraceLists } from './trace-lists.js';
import { OpenRecall } from './open-recall.js';
import { useCallback, useDeferredValue, useMemo, useState } from 'react';

/** The document of the API says nothing of pairs; what it sends are the shapes of shared/api. */
const asAnswer = (view: unknown): TraceAnswer => view as TraceAnswer;

/** What a trace found: totals first, then the pictures and the tables, which mark the same thing together. */
export function TraceResults({ question, ask }: { question: Question; ask: Ask }) {
  const both = server.useQuery(
    'get',
    '/api/trace',
    { params: { query: queryOf(question, 'both') } },
    { placeholderData: keepPreviousData, staleTime: 15_000 },
  );
  const conservative = server.useQuery(
    'get',
    '/api/trace',
    { params: { query: queryOf(question, 'conservative') } },
    { enabled: question.shown === 'conservative', placeholderData: keepPreviousData, staleTime: 15_000 },
  );
  const shown = question.shown === 'conservative' ? conservative : both;
  if (both.error && question.asKnownAt !== null && isUnknownThen(problemOf(both.error)))
    return <NotKnownYet seq={question.asKnownAt} ask={ask} />;
  return (
    <Answered query={both} what="the trace">
      {(narrow) => (
        <Answered query={shown} what="the conservative scope">
          {(answer) => (
            <Results question={question} ask={ask} narrow={asAnswer(narrow)} answer={asAnswer(answer)} stale={shown.isPlaceholderData} />
          )}
        </Answered>
      )}
    </Answered>
  );
}

/** An entry that the ledger has not come to says so itself. */
const isUnknownThen = ({ status, reasons }: Problem): boolean => status === 404 && reasons.every(({ code }) => code !== 'entry-unknown');

/** Slid back to before it was recorded. */
function NotKnownYet({ seq, ask }: { seq: number; ask: Ask }) {
  return (
    <Notice>
      <p role="status">
        At entry {writtenCount(seq)} the record knew nothing of this. Slide on to when it was recorded, or look at it as it is known now.
      </p>
      <p>
        <button type="button" onClick={() => ask({ asKnownAt: null })}>
          As known now
        </button>
      </p>
    </Notice>
  );
}

function Results({
  question,
  ask,
  narrow,
  answer,
  stale,
}: {
  question: Question;
  ask: Ask;
  narrow: TraceAnswer;
  answer: TraceAnswer;
  stale: boolean;
}) {
  // What pointer or focus is on, in whichever view, as the id of its node in the river.
  const [marked, setMarked] = useState<string | null>(null);
  const onChoose = useCallback((chosen: string | null) => ask({ chosen }, 'chosen'), [ask]);
  const views = useMemo<Views>(
    () => ({ marked, onMark: setMarked, chosen: question.chosen, onChoose }),
    [marked, question.chosen, onChoose],
  );
  const narrowFigures = useMemo(() => figuresOf(narrow), [narrow]);
  const figures = useMemo(() => (answer === narrow ? narrowFigures : figuresOf(answer)), [answer, narrow, narrowFigures]);
  // The pictures first: long tables follow when these are drawn.
  const listed = useDeferredValue<TraceAnswer | null>(answer, null);
  return (
    <div className={stale ? 'trace-stale' : undefined} aria-busy={stale}>
      <TraceHead question={question} answer={answer} figures={figures} ask={ask} />
      <Scopes answer={narrow} figures={narrowFigures} shown={question.shown} ask={ask} />
      <TracePictures question={question} answer={answer} views={views} />
      {listed === null ? null : <TraceLists question={question} answer={listed} narrow={narrow} views={views} />}
      <OpenRecall question={question} answer={answer} figures={figures} />
    </div>
  );
}
