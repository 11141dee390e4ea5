import { useState } from 'react';
import { Section } from '../design/page.js';
import type { View } from '../wire/client.js';
import { CurveOf } from './curve.js';
import { curveQuestion, planInWords } from './plan-numbers.js';

/** What the plan of this inspection can tell of a lot, and what it cannot, for each class. */
export function CurveOfInspection({ of }: { of: View<'InspectionView'> }) {
  const planned = of.classes.filter((one) => one.plan !== null);
  const [shown, setShown] = useState(planned[0]?.class);
  const one = planned.find((each) => each.class === shown) ?? planned[0];
  if (of.sample === null || one === undefined || one.plan === null) return null;
  return (
    <Section
      title="What this plan can tell"
      note={`${one.class}, AQL ${one.aql}: ${planInWords(one.plan)}`}
      actions={planned.map((each) => (
        <button key={each.class} type="button" aria-pressed={each.class === one.class} onClick={() => setShown(each.class)}>
          {each.class}
        </button>
      ))}
    >
      <CurveOf
        question={curveQuestion(one.plan, one.aql, of.sample.basis)}
        name={`Operating characteristic of ${of.inspection}, ${one.class}`}
      />
    </Section>
  );
}
