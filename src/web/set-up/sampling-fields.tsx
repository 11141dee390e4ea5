import { LEVELS, type Level } from '../../../shared/sampling/code-letter.js';
import type { Aql } from '../../../shared/sampling/aql.js';
import { ChoiceField, TickField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { aqlsFor, CLASSES_WITH_AQL, classesOf, type DraftSampling, type LimitedClass, USUAL_SAMPLING } from './plan-draft.js';
import { PlanPreview } from './plan-preview-table.js';

const LEVEL_WORDS: Readonly<Record<Level, string>> = {
  'S-1': 'S-1: smallest sample',
  'S-2': 'S-2',
  'S-3': 'S-3',
  'S-4': 'S-4',
  I: 'I: less told, smaller sample',
  II: 'II: usual',
  III: 'III: more told, larger sample',
};
const TYPES = [
  { value: 'single', says: 'single: one sample' },
  { value: 'double', says: 'double: a second if need be' },
] as const;
const BASES = [
  { value: 'items', says: 'nonconforming items (%)' },
  { value: 'nonconformities', says: 'faults per 100 items' },
] as const;

/** How many items are taken and how they are judged, with what that comes to for lots of different sizes. */
export function SamplingFields({ sampling, onChange }: { sampling: DraftSampling | null; onChange: (next: DraftSampling | null) => void }) {
  return (
    <>
      <Section title="Sample" note="taken of every lot that is inspected">
        <TickField
          name="/sampling"
          label="Take a sample of items"
          hint={sampling === null ? 'not ticked: only the lot as a whole is tested, by what is measured on it below' : undefined}
          checked={sampling !== null}
          onChange={(event) => onChange(event.target.checked ? USUAL_SAMPLING : null)}
        />
        {sampling === null ? null : <Fields sampling={sampling} onChange={onChange} />}
      </Section>
      {sampling === null ? null : <PlanPreview sampling={sampling} />}
    </>
  );
}

function Fields({ sampling, onChange }: { sampling: DraftSampling; onChange: (next: DraftSampling) => void }) {
  const sent = classesOf(sampling);
  // A limit that the standard does not have for this basis is not kept in secret.
  const withBasis = (basis: DraftSampling['basis']): DraftSampling => {
    const fit = (aql: Aql | ''): Aql | '' => (aql === '' || aqlsFor(basis).includes(aql) ? aql : '');
    return { ...sampling, basis, aql: { major: fit(sampling.aql.major), minor: fit(sampling.aql.minor) } };
  };
  const aqlField = (of: LimitedClass) => {
    const at = sent.findIndex((one) => one.class === of);
    return (
      <ChoiceField
        key={of}
        name={at === -1 ? `/sampling/classes/none-${of}` : `/sampling/classes/${at}/aql`}
        label={`AQL for ${of}`}
        none={`no ${of} is looked for`}
        choices={aqlsFor(sampling.basis).map((value) => ({ value, says: value }))}
        value={sampling.aql[of]}
        onChange={(event) => onChange({ ...sampling, aql: { ...sampling.aql, [of]: event.target.value as Aql | '' } })}
      />
    );
  };
  return (
    <div className="grid">
      <ChoiceField
        name="/sampling/level"
        label="Inspection level"
        choices={LEVELS.map((value) => ({ value, says: LEVEL_WORDS[value] }))}
        value={sampling.level}
        onChange={(event) => onChange({ ...sampling, level: event.target.value as Level })}
      />
      <ChoiceField
        name="/sampling/type"
        label="Plan"
        choices={TYPES}
        value={sampling.type}
        onChange={(event) => onChange({ ...sampling, type: event.target.value as DraftSampling['type'] })}
      />
      <ChoiceField
        name="/sampling/basis"
        label="An AQL counts"
        choices={BASES}
        value={sampling.basis}
        onChange={(event) => onChange(withBasis(event.target.value as DraftSampling['basis']))}
      />
      {CLASSES_WITH_AQL.map(aqlField)}
    </div>
  );
}
