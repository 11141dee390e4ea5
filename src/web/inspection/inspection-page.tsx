import { Link } from 'wouter';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { Caution, Notice, Page } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { BeginForm } from './begin-form.js';
import { CurveOfInspection } from './curve-of-inspection.js';
import { Decisions } from './decisions.js';
import { EndedSection } from './ended-section.js';
import { MeasureItems } from './measure-items.js';
import { NumbersPanel } from './numbers-panel.js';
import { SampleSection } from './sample-section.js';
import { countsOf, together } from './tally-state.js';
import { TallySection, useTally } from './tally.js';
import { useKeptTallies } from './use-kept-tallies.js';
import { TestsSection } from './tests-section.js';
import { VerdictSection } from './verdict-section.js';
import { lotSizeInWords, OCCASIONS, sourceKind, stampOf } from './words.js';
import { WrittenDown } from './written-down.js';

type Inspection = View<'InspectionView'>;

/** One inspection: what to take, what was found, and where it stands. */
export function InspectionPage({ inspection }: { inspection: string }) {
  const query = server.useQuery('get', '/api/inspections/{inspection}', { params: { path: { inspection } } });
  return (
    <Answered query={query} what="the inspection">
      {(of) => <Whole of={of} />}
    </Answered>
  );
}

function Whole({ of }: { of: Inspection }) {
  const tally = useTally(of.inspection);
  const mayInspect = useMay('inspector', 'quality');
  const basis = of.sample?.basis ?? 'items';
  const kept = useKeptTallies(of.inspection, basis);
  const waiting = together(countsOf(tally[0], basis), kept);
  const begun = of.state === 'begun';
  return (
    <Page
      title={<code>{of.inspection}</code>}
      name={`Inspection ${of.inspection}`}
      crumb={
        <>
          <Link href="/inspection">Inspection</Link> · {OCCASIONS[of.occasion] ?? of.occasion} · <code>{of.item}</code>
        </>
      }
      stamps={<Stamp word={stampOf(of)} />}
      sub={<Sub of={of} />}
      facts={[
        { label: 'Lot size', value: lotSizeInWords(of) },
        { label: 'Looked at', value: (of.inspected[0] ?? 0) + (of.inspected[1] ?? 0) },
        { label: 'Nonconforming', value: of.nonconforming, warn: of.nonconforming > 0 },
      ]}
    >
      <NumbersPanel of={of} waiting={waiting} />
      {of.urgent === null ? null : (
        <Notice>
          <p>
            <strong>Comes before older ones:</strong> {of.urgent}
          </p>
        </Notice>
      )}
      <Stopped of={of} />
      {of.state === 'waiting' ? <BeginForm of={of} may={mayInspect} /> : null}
      <EndedSection of={of} />
      {begun && mayInspect && of.sample !== null && of.toInspect > 0 ? <TallySection of={of} tally={tally} kept={kept} /> : null}
      {begun && mayInspect && of.sample !== null && of.toInspect > 0 ? <MeasureItems of={of} /> : null}
      <TestsSection of={of} may={begun && mayInspect} />
      {begun ? <VerdictSection of={of} may={mayInspect} waiting={waiting.looked} /> : null}
      <WrittenDown of={of} may={begun && mayInspect} />
      <SampleSection of={of} />
      <CurveOfInspection of={of} />
      <Decisions of={of} />
      <Entries about={{ inspection: of.inspection }} />
    </Page>
  );
}

function Sub({ of }: { of: Inspection }) {
  const kind = sourceKind(of);
  return (
    <>
      {of.pieces === null ? 'Lot' : `Pieces ${of.pieces} of lot`} <Refer kind="lot" code={of.lot} />
      {of.supplier === null ? ', made here' : <>, from {<Refer kind="supplier" code={of.supplier} />}</>}
      {of.source === null ? null : <>, {kind === null ? <code>{of.source}</code> : <Refer kind={kind} code={of.source} />}</>}, opened{' '}
      {localWritten(of.openedAt)}
      {of.resubmits === null ? null : (
        <>
          ; presented again after <Refer kind="inspection" code={of.resubmits} />
        </>
      )}
    </>
  );
}

/** Stands on top while anything critical is known, so that nobody goes on using the lot. */
function Stopped({ of }: { of: Inspection }) {
  const critical = of.classes.find((one) => one.class === 'critical');
  if ((critical?.found[1] ?? 0) === 0) return null;
  return (
    <Caution>
      <p>
        <strong>Critical nonconformity found. Stop.</strong> Lot <Refer kind="lot" code={of.lot} /> and everything made from it{' '}
        {of.holds.length === 0 ? 'must not be used' : 'is held'}
        {of.holds.map((hold) => (
          <span key={hold}>
            {' '}
            under <Refer kind="hold" code={hold} />
          </span>
        ))}
        . One is enough: the lot is not accepted, whatever the plan says of the rest.
      </p>
    </Caution>
  );
}
