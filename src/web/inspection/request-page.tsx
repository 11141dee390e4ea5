import { Link, useLocation, useSearch } from 'wouter';
import { CommandForm } from '../design/command-form.js';
import { TextAreaField, TextField } from '../design/fields.js';
import { Page } from '../design/page.js';

/** Quality asks for an inspection of a lot, or presents again what was not accepted. */
export function RequestPage() {
  const asked = new URLSearchParams(useSearch());
  const [, go] = useLocation();
  return (
    <Page
      title="Ask for an inspection"
      crumb={<Link href="/inspection">Inspection</Link>}
      sub="By the plan of the item as it stands now. What was not accepted is presented again this way, after sorting or rework; it counts for no switching rule."
    >
      <div className="sheet narrow">
        <CommandForm
          path="/api/inspections"
          body={(values) => ({
            lot: values.text('/lot'),
            pieces: values.maybe('/pieces'),
            reason: values.text('/reason'),
          })}
          submit="Open the inspection"
          onDone={({ inspection }) => go(`/inspection/${encodeURIComponent(inspection)}`)}
          onCancel={() => go('/inspection')}
        >
          <TextField name="/lot" label="Lot" code required defaultValue={asked.get('lot') ?? ''} />
          <TextField
            name="/pieces"
            label="Pieces"
            code
            defaultValue={asked.get('pieces') ?? ''}
            hint="as 5-17,40; left out: what of the lot is on hand"
          />
          <TextAreaField name="/reason" label="Why, or what was done since it was not accepted" required rows={2} />
        </CommandForm>
      </div>
    </Page>
  );
}
