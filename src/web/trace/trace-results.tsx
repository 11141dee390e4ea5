import { keepPreviousData } from '@tanstack/react-query';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { Answered } from '../design/answered.js';
import { server } from '../wire/client.js';
import type { Question } from './question.js';
import type { Ask } from './use-question.js';
import type { Views } from './views.js';
import { queryOf } from './question.js';
import { TracePictures } from './trace-pictures.js';
import { Scopes } from './scopes.js';
import { TraceHead } from './trace-head.js';
import { TraceLists } from './trace-lists.js';
import { OpenRecall } from './open-recall.js';
import { useMemo, useState } from 'react';

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
  const views = useMemo<Views>(
    () => ({ marked, onMark: setMarked, chosen: question.chosen, onChoose: (chosen: string | null) => ask({ chosen }, 'chosen') }),
    // oxlint-disable-next-line react-hooks/exhaustive-deps -- asking is the same whatever it closes over but the question
    [marked, question],
  );
  return (
    <div className={stale ? 'trace-stale' : undefined} aria-busy={stale}>
      <TraceHead question={question} answer={answer} ask={ask} />
      <Scopes answer={narrow} shown={question.shown} onShow={(shown) => ask({ shown })} />
      <TracePictures question={question} answer={answer} views={views} />
      <TraceLists question={question} answer={answer} narrow={narrow} views={views} />
      <OpenRecall question={question} answer={answer} />
    </div>
  );
}
