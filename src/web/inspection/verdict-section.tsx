import { useState } from 'react';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField } from '../design/fields.js';
import { Caution, Notice, Section } from '../design/page.js';
import type { View } from '../wire/client.js';
import { isDecided, writtenItems } from './words.js';

type Inspection = View<'InspectionView'>;

/** The verdict as the plan gives it, what will follow, and the way to be stricter; never laxer. */
export function VerdictSection({ of, may, waiting }: { of: Inspection; may: boolean; waiting: number }) {
  const { computed } = of;
  return (
    <Section title="Verdict" note="computed by the plan; a person may be stricter, never laxer">
      <Classes of={of} />
      {waiting > 0 ? (
        <Notice>
          <p>
            <strong>{writtenItems(waiting)}</strong> of yours are not written down yet and count for nothing so far. Write them down first.
          </p>
        </Notice>
      ) : null}
      {computed === null ? <StillMissing of={of} /> : null}
      {may && computed !== null ? <Decide of={of} /> : null}
      {may ? <Stricter of={of} /> : null}
    </Section>
  );
}

function Classes({ of }: { of: Inspection }) {
  return (
    <ul className="standings">
      {of.classes.map((one) => (
        <li key={one.class} className={one.standing === 'not-accepted' ? 'urgent' : undefined}>
          <strong>{one.class}</strong>: {isDecided(one) ? one.because : soFar(of, one)}
        </li>
      ))}
      {of.failed.map((words) => (
        <li key={words} className="urgent">
          {words}
        </li>
      ))}
    </ul>
  );
}

const soFar = (of: Inspection, { found, ac, re }: View<'ClassView'>): string =>
  `open, ${(of.secondSample ? found[1] : found[0]) ?? 0} found so far; accepted up to ${ac}, not accepted from ${re}`;

function StillMissing({ of }: { of: Inspection }) {
  const left = [
    ...(of.toInspect > 0 ? [`${writtenItems(of.toInspect)}${of.secondSample ? ' of both samples' : ''} still to be looked at`] : []),
    ...of.missing,
  ];
  return (
    <div>
      <p>
        <strong>Open.</strong> Before the lot can be accepted:
      </p>
      <ul>
        {left.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </div>
  );
}

/** How much of the lot a verdict is about. */
const whole = ({ pieces, lot }: Inspection): string => (pieces === null ? `all of lot ${lot}` : `pieces ${pieces} of lot ${lot}`);

function Decide({ of }: { of: Inspection }) {
  const { inspection, computed, lot, curtailed, nonconforming, holds } = of;
  const refused = computed === 'not-accepted';
  return (
    <>
      {refused ? (
        <Caution>
          <p>
            The plan does not accept it. Closing it {holds.length > 0 ? 'leaves' : 'puts'} {whole(of)} on hold at once, with everything made
            from it{holds.length > 0 ? ` (${holds.join(', ')})` : ''}, until quality lifts the hold. A nonconformance report comes next.
            {curtailed
              ? ' You may stop here: more inspection cannot change it. The lot is marked as curtailed and left out of estimates of quality.'
              : ''}
          </p>
        </Caution>
      ) : (
        <Notice>
          <p>
            The plan accepts it. {nonconforming > 0 ? `The ${writtenItems(nonconforming)} found nonconforming are held. ` : ''}
            Accepting does not release: quality releases the lot, with a signature.
          </p>
        </Notice>
      )}
      <CommandForm
        path="/api/inspections/{inspection}/verdict"
        address={{ inspection }}
        body={() => ({})}
        submit={refused ? `Close ${inspection}: ${lot} is not accepted` : `Close ${inspection}: ${lot} is accepted`}
        danger={refused}
        onDone={() => undefined}
      />
    </>
  );
}

function Stricter({ of }: { of: Inspection }) {
  const [open, setOpen] = useState(false);
  const { inspection, lot, computed } = of;
  if (computed === 'not-accepted') return null;
  if (!open) {
    return (
      <p className="stricter no-print">
        <button type="button" className="plain" onClick={() => setOpen(true)}>
          Be stricter than the plan
        </button>
      </p>
    );
  }
  return (
    <div className="sheet">
      <h3>Be stricter than the plan</h3>
      <Caution>
        <p>
          The lot is then not accepted although the plan {computed === null ? 'has not decided' : 'would accept it'}: {whole(of)} and
          everything made from it is held at once.
        </p>
      </Caution>
      <CommandForm
        path="/api/inspections/{inspection}/verdict"
        address={{ inspection }}
        body={(values) => ({ stricter: values.text('/stricter') })}
        submit={`Close ${inspection}: ${lot} is not accepted`}
        danger
        onDone={() => setOpen(false)}
        onCancel={() => setOpen(false)}
      >
        <TextAreaField name="/stricter" label="Why it is not accepted" required rows={2} />
      </CommandForm>
    </div>
  );
}
