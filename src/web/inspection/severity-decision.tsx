import { useState } from 'react';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { ChoiceField } from '../design/fields.js';
import { Caution } from '../design/page.js';
import type { BodyOf } from '../wire/use-command.js';

type Body = BodyOf<'/api/switching/decisions'>;
type Decision = Body['decision'];

const DECISIONS: readonly { value: Decision; says: string; means: string }[] = [
  { value: 'production-steady', says: 'Production is steady', means: 'production runs at a steady rate (9.3.3 b)' },
  {
    value: 'production-irregular',
    says: 'Production is irregular',
    means: 'production no longer runs steadily, which ends reduced inspection (9.3.4)',
  },
  { value: 'reduced-desired', says: 'Reduced inspection is wanted', means: 'reduced inspection is considered desirable (9.3.3 c)' },
  {
    value: 'reduced-not-desired',
    says: 'Reduced inspection is not wanted',
    means: 'reduced inspection is no longer considered desirable (9.3.4)',
  },
  {
    value: 'resume',
    says: 'Resume after discontinuation',
    means: 'what the supplier did is likely to work, and tightened inspection begins again (9.4)',
  },
  { value: 'start', says: 'Start under another severity', means: 'the first lot is inspected under the severity chosen (9.1)' },
];

/** What quality states or decides about switching: signed, and effective for the next lot. */
export function SeverityDecision({ item, supplier, onClose }: { item: string; supplier: string | null; onClose: () => void }) {
  const [decision, setDecision] = useState<Decision>('production-steady');
  const chosen = DECISIONS.find(({ value }) => value === decision);
  const from = supplier === null ? 'made here' : `from ${supplier}`;
  return (
    <Dialog title={`Decide on ${item}, ${from}`} onClose={onClose}>
      <CommandForm
        path="/api/switching/decisions"
        body={(values) => ({
          item,
          ...(supplier === null ? {} : { supplier }),
          ...(values.maybe('/class') === undefined ? {} : { class: values.choice<'major' | 'minor'>('/class') }),
          decision,
          ...(decision === 'start' ? { severity: values.choice<'normal' | 'tightened' | 'reduced'>('/severity') } : {}),
        })}
        signs={`for ${item}, ${from}, that ${chosen?.means ?? ''}`}
        submit={chosen?.says ?? ''}
        onDone={onClose}
        onCancel={onClose}
      >
        <ChoiceField
          name="/decision"
          label="What you state"
          choices={DECISIONS}
          value={decision}
          onChange={(event) => setDecision(event.target.value as Decision)}
        />
        <ChoiceField
          name="/class"
          label="Class"
          none="every class it can be taken for"
          choices={[
            { value: 'major', says: 'major' },
            { value: 'minor', says: 'minor' },
          ]}
        />
        {decision === 'start' ? (
          <ChoiceField
            name="/severity"
            label="Severity it starts under"
            choices={['normal', 'tightened', 'reduced'].map((value) => ({ value, says: value }))}
          />
        ) : null}
        {decision === 'resume' || decision === 'reduced-desired' ? (
          <Caution>
            <p>
              {decision === 'resume'
                ? 'Lots are taken to inspection again. Name in the reason what was done and how it is known to work.'
                : 'Fewer items will be looked at. Where a miss could hurt somebody, do not ask for it.'}
            </p>
          </Caution>
        ) : null}
      </CommandForm>
    </Dialog>
  );
}
