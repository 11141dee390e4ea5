import { useState } from 'react';
import { parseSpans } from '../../../shared/spans.js';
import { writtenCount } from '../../../shared/written.js';
import { Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { drawPieces } from './draw-pieces.js';

type Inspection = View<'InspectionView'>;

/** How the sample came to be that size, what the plan says about it, and which pieces to take. */
export function SampleSection({ of }: { of: Inspection }) {
  const { sample, item, planRevision } = of;
  const { data: revisions } = server.useQuery('get', '/api/inspection-plans/{item}/history', { params: { path: { item } } });
  const note = revisions?.find(({ revision }) => revision === planRevision)?.record.note ?? null;
  const reasons = of.classes.flatMap((one) => [
    ...one.planBecause.map((words) => `${one.class}: ${words}`),
    ...(one.unverified === null ? [] : [`${one.class}: ${one.unverified}`]),
  ]);
  return (
    <Section title="The sample" note={`plan of ${item}, revision ${planRevision}`}>
      {sample === null ? (
        <p>
          {of.begun || of.state !== 'waiting'
            ? 'This inspection takes no sample of items: it tests the lot.'
            : 'No sample so far: the plan takes none, or how many there are in the lot is not known yet.'}
        </p>
      ) : (
        <p>
          {sample.edition}, level {sample.level}, letter <code>{sample.codeLetter}</code>, {sample.type} sampling, counting{' '}
          {sample.basis === 'items' ? 'nonconforming items, each in its worst class' : 'nonconformities one by one'}.{' '}
          {sample.inspectAllBecause === null ? '' : `Every item is inspected: ${sample.inspectAllBecause}. `}
          Take the items so that each of the lot has the same chance to be taken, not only what lies on top.
        </p>
      )}
      {note === null ? null : (
        <p>
          <strong>The plan says:</strong> {note}
        </p>
      )}
      {reasons.length === 0 ? null : (
        <ul>
          {reasons.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      {sample !== null && of.pieces !== null && of.state !== 'decided' ? <Draw of={of} pieces={of.pieces} /> : null}
      <p className="quiet">{of.caution}</p>
    </Section>
  );
}

/** Draws piece numbers by chance: helps the hand, and is no part of the record. */
function Draw({ of, pieces }: { of: Inspection; pieces: string }) {
  const [drawn, setDrawn] = useState<readonly number[]>([]);
  const size = of.sample?.first ?? 0;
  if (of.lotSize === null || size >= of.lotSize) return null;
  return (
    <div>
      <button type="button" className="draw no-print" onClick={() => setDrawn(drawPieces(parseSpans(pieces), size))}>
        {drawn.length === 0 ? `Draw ${writtenCount(size)} piece numbers by chance` : 'Draw again'}
      </button>
      {drawn.length === 0 ? null : (
        <p className="drawn" role="status">
          Take pieces <code>{drawn.join(', ')}</code>. This draw is a help and is not kept.
        </p>
      )}
    </div>
  );
}
