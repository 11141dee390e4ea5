import { Link, useSearch } from 'wouter';
import { formatSpans } from '../../../shared/spans.js';
import { inWords, writtenCount } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { Caution, Notice, Page } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { piecesWritten } from './amounts.js';
import { type RaiseFrom, raiseFrom } from './raise-draft.js';
import { RaiseForm } from './raise-form.js';

const MOST_PARTS = 500;

/** Raises a report: from scratch, from an inspection, from lots that somebody looked at, or from the scope of a recall. */
export function RaisePage() {
  const search = useSearch();
  const from = raiseFrom(search);
  return (
    <Page
      crumb={<Link href="/nonconformance">Nonconformance</Link>}
      title="Raise a report"
      sub="What was found, which requirement it does not meet, and what is affected. Nothing is held until quality contains it."
    >
      {from.recall === null ? (
        <>
          {from.inspection === null ? null : <FromInspection code={from.inspection} />}
          {from.trace === null ? null : <FromTrace trace={from.trace} />}
          <RaiseForm key={search} name={search} from={from} />
        </>
      ) : (
        <FromRecall recall={from.recall} from={from} name={search} />
      )}
    </Page>
  );
}

function FromInspection({ code }: { code: string }) {
  const query = server.useQuery('get', '/api/inspections/{inspection}', { params: { path: { inspection: code } } });
  return (
    <Answered query={query} what="the inspection">
      {(inspection) => (
        <Notice>
          <p>
            From inspection <Refer kind="inspection" code={code} /> of lot <Refer kind="lot" code={inspection.lot} />
            {inspection.pieces === null ? '' : `, pieces ${piecesWritten(inspection.pieces)}`} ({inspection.item}),{' '}
            {inspection.verdict === null ? 'not decided yet' : inWords(inspection.verdict)}. What you leave empty is taken from it: the
            requirement, what was found, defects and their counts, measured values out of limits, photographs, severity, and its lot as what
            is affected. Its hold counts as the report’s own.
          </p>
        </Notice>
      )}
    </Answered>
  );
}

const FromTrace = ({ trace }: { trace: NonNullable<RaiseFrom['trace']> }) => (
  <Notice>
    <p>
      Everything that a trace forward from{' '}
      {Object.entries(trace).map(([key, value], i) => (
        <span key={key}>
          {i > 0 ? ', ' : ''}
          {key === 'supplierLot' ? 'supplier’s lot' : key} <code>{value}</code>
        </span>
      ))}{' '}
      reaches is affected, beside the lots named below.
    </p>
  </Notice>
);

const spansOf = (lot: View<'RecallLotView'>): string =>
  lot.spans === null ? '' : formatSpans(lot.spans.map((span) => [Number(span[0]), Number(span[1])] as const));

/** The frozen scope of a recall becomes the affected parts, lot by lot. */
function FromRecall({ recall, from, name }: { recall: string; from: RaiseFrom; name: string }) {
  const query = server.useQuery('get', '/api/recalls/{recall}', { params: { path: { recall } } });
  return (
    <Answered query={query} what="the recall">
      {({ lots, title }) => (
        <>
          <Notice>
            <p>
              From the scope of recall <Refer kind="recall" code={recall} />, {title}: {writtenCount(lots.length)} lots. Take out what the
              report is not about.
            </p>
          </Notice>
          {lots.length > MOST_PARTS ? (
            <Caution>
              <p>
                A report names at most {writtenCount(MOST_PARTS)} lots; the first {writtenCount(MOST_PARTS)} stand below. Raise another for
                the rest, or begin from the supplier’s lot and let the trace name them.
              </p>
            </Caution>
          ) : null}
          <RaiseForm
            key={name}
            name={name}
            from={{ ...from, parts: lots.slice(0, MOST_PARTS).map((lot) => ({ lot: lot.lot, pieces: spansOf(lot), quantity: '' })) }}
          />
        </>
      )}
    </Answered>
  );
}
