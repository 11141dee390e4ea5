import { CommandForm } from '../design/command-form.js';
import { ChoiceField } from '../design/fields.js';
import { Section } from '../design/page.js';
import { server } from '../wire/client.js';
import type { Run } from './run.js';
import { useDoing } from './use-doing.js';

/** A running batch goes on in another vessel. */
export function TransferRun({ run }: { run: Run }) {
  const doing = useDoing();
  const vessels = (server.useQuery('get', '/api/vessels', {}, { staleTime: 60_000 }).data ?? []).filter(({ code }) => code !== run.vessel);
  if (vessels.length === 0) return null;
  return (
    <Section title="Another vessel" note={`the batch is in ${run.vessel}`}>
      <details className="more">
        <summary>The batch goes on in another vessel</summary>
        <CommandForm
          path="/api/runs/{run}/transfers"
          address={{ run: run.run }}
          submit="Record that it was pumped over"
          keepAs={({ to }) => `${run.run} pumped into ${to}`}
          body={(values) => ({ to: values.text('/to'), at: doing.at() })}
          onDone={() => doing.over()}
          onKept={() => doing.over()}
        >
          <ChoiceField
            name="/to"
            label="Vessel it goes on in"
            none="choose a vessel"
            choices={vessels.map(({ code, name }) => ({ value: code, says: `${code} ${name}` }))}
            hint="It has to be empty. What clings to it goes into the batch, and the record says so."
            required
          />
        </CommandForm>
      </details>
    </Section>
  );
}
