import { CommandForm } from '../design/command-form.js';
import { TextField } from '../design/fields.js';
import { Notice, Section } from '../design/page.js';
import type { View } from '../wire/client.js';
import { severityAddress } from './numbers-panel.js';
import { writtenItems } from './words.js';
import { Link } from 'wouter';

type Inspection = View<'InspectionView'>;

/** Begins: from then on the plan, its severity and its numbers are fixed. */
export function BeginForm({ of, may }: { of: Inspection; may: boolean }) {
  const { inspection, sample, lotSize, characteristics } = of;
  const samples = sample !== null || lotSize === null;
  return (
    <Section title="Begin" note="nothing is written down before it begins">
      {sample === null ? null : (
        <p>
          As things stand you would take <strong>{writtenItems(sample.first)}</strong>
          {sample.second === null ? '' : `, and ${writtenItems(sample.second)} more if the first sample does not decide`}
          {sample.inspectAllBecause === null ? '' : ` (${sample.inspectAllBecause})`}. Beginning fixes this, with the severity in force now
          (see <Link href={severityAddress(of)}>how it came about</Link>).
        </p>
      )}
      {sample === null && lotSize !== null && characteristics.every(({ per }) => per === 'lot') ? (
        <p>The plan tests the lot as a whole: {characteristics.map(({ name }) => name).join(', ')}.</p>
      ) : null}
      {may ? (
        <CommandForm
          path="/api/inspections/{inspection}/begin"
          address={{ inspection }}
          body={(values) => {
            const counted = values.whole('/lotSize');
            return counted === undefined ? {} : { lotSize: counted };
          }}
          submit={sample === null ? `Begin ${inspection}` : `Begin ${inspection}: take ${writtenItems(sample.first)}`}
          onDone={() => undefined}
        >
          {lotSize === null && samples ? (
            <TextField
              name="/lotSize"
              label="Items or containers in the lot"
              inputMode="numeric"
              pattern="[1-9][0-9]*"
              title="a whole number"
              hint="Only needed where the plan takes a sample: the record does not know how many there are, so count them."
            />
          ) : null}
        </CommandForm>
      ) : (
        <Notice>
          <p>An inspector or quality begins it.</p>
        </Notice>
      )}
    </Section>
  );
}
