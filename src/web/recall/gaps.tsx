import { useState } from 'react';
import { writtenDate } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { Empty, Section } from '../design/page.js';
import type { Progress } from './recall-page.js';

/** What was found wanting, in a drill above all: each with an action, an owner and a day, until it is done. */
export function Gaps({ progress }: { progress: Progress }) {
  const may = useMay('quality', 'recall-lead');
  const [open, setOpen] = useState(false);
  return (
    <Section
      title="Gaps"
      note={`${progress.gaps.filter(({ done }) => done === null).length} open of ${progress.gaps.length}`}
      actions={
        may && !open ? (
          <button type="button" onClick={() => setOpen(true)}>
            Record a gap
          </button>
        ) : null
      }
    >
      {open ? (
        <CommandForm
          path="/api/recalls/{recall}/gaps"
          address={{ recall: progress.recall }}
          submit="Record the gap"
          body={(values) => ({
            found: values.text('/found'),
            action: values.text('/action'),
            owner: values.text('/owner'),
            dueOn: values.text('/dueOn'),
          })}
          onDone={() => setOpen(false)}
          onCancel={() => setOpen(false)}
        >
          <TextAreaField name="/found" label="What was wanting" required />
          <TextAreaField name="/action" label="What is done about it" required />
          <div className="grid">
            <TextField name="/owner" label="By whom" code required />
            <TextField name="/dueOn" label="Until" type="date" required />
          </div>
        </CommandForm>
      ) : null}
      {progress.gaps.length === 0 && !open ? (
        <Empty>
          <p>No gap recorded. After a drill, write down what took too long or could not be found.</p>
        </Empty>
      ) : null}
      <ol className="consignees">
        {progress.gaps.map((gap) => (
          <li key={gap.gap}>
            <h3>{gap.found}</h3>
            <p>
              {gap.action}; <code>{gap.owner}</code> until {writtenDate(gap.dueOn)}. {gap.done === null ? '' : `Done: ${gap.done}`}
            </p>
            {may && gap.done === null ? (
              <CommandForm
                path="/api/recalls/{recall}/gaps/{gap}/done"
                address={{ recall: progress.recall, gap: gap.gap }}
                submit="It is done"
                body={(values) => ({ done: values.text('/done') })}
                onDone={() => undefined}
              >
                <TextField name="/done" label="What was done" required />
              </CommandForm>
            ) : null}
          </li>
        ))}
      </ol>
    </Section>
  );
}
