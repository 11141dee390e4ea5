import { useCallback } from 'react';
import { capital } from '../../../shared/written.js';
import { useScan } from '../scan/scans.js';
import { Page } from '../design/page.js';
import { Tabs } from '../design/tabs.js';
import { KnownAt } from './known-at.js';
import { OriginBox } from './origin-box.js';
import { hasOrigin, lacksTime, originWords, type Question } from './question.js';
import { TRACE_TABS } from './trace-tabs.js';
import { TraceResults } from './trace-results.js';
import { Teaching } from './teaching.js';
import { useQuestion } from './use-question.js';
import './trace.css';

/** One box: scan, type or paste anything, and see where it came from or where it went. */
export function TracePage() {
  const [question, ask] = useQuestion();
  const asks = hasOrigin(question);
  useScan((_, text) => {
    ask({ text });
    return true;
  });
  const slide = useCallback((asKnownAt: number | null) => ask({ asKnownAt }, 'slider'), [ask]);
  return (
    <Page
      title={titleOf(question, asks)}
      crumb={asks ? capital(originWords(question.origin)) : undefined}
      sub={asks ? undefined : 'Where material came from, and where it went'}
    >
      <div className="no-print">
        <Tabs label="Ways to trace" tabs={TRACE_TABS} />
        <OriginBox question={question} ask={ask} />
      </div>
      {asks ? (
        <>
          <KnownAt seq={question.asKnownAt} onSeq={slide} />
          <TraceResults question={question} ask={ask} />
        </>
      ) : question.text === null && !lacksTime(question.origin) ? (
        <Teaching />
      ) : null}
    </Page>
  );
}

function titleOf({ direction }: Question, asks: boolean): string {
  if (!asks) return 'Trace';
  return direction === 'forward' ? 'Trace forward' : 'Trace backward';
}
