import { useEffect, useRef, useState } from 'react';
import { useLocation, useSearch } from 'wouter';
import { useScan } from '../scan/scans.js';
import { Answered } from '../design/answered.js';
import { Page } from '../design/page.js';
import { Tabs } from '../design/tabs.js';
import { server, type View } from '../wire/client.js';
import { SuspectsForm } from './suspects-form.js';
import { SuspectsAnswered } from './suspects-answered.js';
import { failedText, type Lists, withLines } from './suspects-text.js';
import { TRACE_TABS } from './trace-tabs.js';
import './trace.css';

/** Longer lists than this are kept in the page alone: no address is that long. */
const LONGEST_ADDRESS = 6000;

/** Some pieces failed: what do they have in common that the others have not? */
export function SuspectsPage() {
  const search = new URLSearchParams(useSearch());
  const report = search.get('report');
  return (
    <Page title="Suspects" crumb="Trace" sub="Some pieces failed. What do they have in common that the sound ones do not?">
      <Tabs label="Ways to trace" tabs={TRACE_TABS} />
      {report === null ? (
        <Asking start={{ failed: search.get('failed') ?? '', population: search.get('population') ?? '' }} />
      ) : (
        <FromReport report={report} />
      )}
    </Page>
  );
}

function FromReport({ report }: { report: string }) {
  const query = server.useQuery('get', '/api/reports/{report}', { params: { path: { report } } });
  return (
    <Answered query={query} what={`report ${report}`}>
      {(view) => <Asking key={report} start={listsOf(view)} from={report} />}
    </Answered>
  );
}

/** What the report is about has failed; whole lots of it are what it is compared with, until a wider comparison is named. */
function listsOf({ parts, lots }: View<'ReportView'>): Lists {
  const failed = parts.map(({ lot, pieces }) => (pieces === null ? { lot } : { lot, pieces }));
  return { failed: failedText(failed), population: [...new Set(lots)].join('\n') };
}

function Asking({ start, from }: { start: Lists; from?: string }) {
  const [, go] = useLocation();
  const [lists, setLists] = useState(start);
  const asksAtOnce = start.failed.trim() !== '' && start.population.trim() !== '' && from === undefined;
  const [asked, setAsked] = useState<Lists | null>(asksAtOnce ? start : null);
  const own = useRef(start);
  // The address is changed from elsewhere too: by going back.
  useEffect(() => {
    if (start.failed === own.current.failed && start.population === own.current.population) return;
    own.current = { failed: start.failed, population: start.population };
    setLists(own.current);
    setAsked(asksAtOnce ? own.current : null);
  }, [start.failed, start.population, asksAtOnce]);
  useScan((scan, text) => {
    const code = scan.kind === 'gs1' ? scan.serial : scan.kind === 'plain' ? scan.text.trim() : null;
    if (code === null || text === '') return false;
    setLists((before) => ({ ...before, failed: withLines(before.failed, [code]) }));
    return true;
  });
  function ask(): void {
    setAsked(lists);
    const address = `/trace/suspects?${new URLSearchParams({ failed: lists.failed, population: lists.population }).toString()}`;
    if (address.length > LONGEST_ADDRESS) return;
    own.current = lists;
    go(address);
  }
  return (
    <>
      <SuspectsForm lists={lists} onLists={setLists} onAsk={ask} from={from} />
      {asked === null ? null : <SuspectsAnswered key={`${asked.failed}\n\n${asked.population}`} lists={asked} />}
    </>
  );
}
