import { useState } from 'react';
import { useLocations } from '../design/choices.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField, TextAreaField, TextField } from '../design/fields.js';
import { Caution, Section } from '../design/page.js';
import { Said } from '../design/said.js';
import { server, type View } from '../wire/client.js';
import { amount } from './run.js';
import { useDoing } from './use-doing.js';
import { useTyped } from './use-typed.js';

type Content = View<'VesselContentView'>;

/** What is done to a vessel between two batches: emptied, cleaned, pumped over. Each says what it will do before it does it. */
export function VesselForms({ content }: { content: Content }) {
  const [said, setSaid] = useState('');
  const full = content.content.length > 0;
  return (
    <>
      <Said says={said} />
      {full ? (
        <>
          <Emptied content={content} onSaid={setSaid} />
          <Transfer content={content} onSaid={setSaid} />
        </>
      ) : content.openRun === null ? (
        <Cleaned content={content} onSaid={setSaid} />
      ) : null}
    </>
  );
}

interface Props {
  content: Content;
  onSaid: (words: string) => void;
}

function Emptied({ content, onSaid }: Props) {
  const { vessel } = content;
  const typed = useTyped(`empty ${vessel}`);
  const doing = useDoing();
  const locations = useLocations();
  const held = content.content.map(({ quantity, unit, lot }) => `${amount(quantity, unit)} of ${lot}`).join(' and ');
  const where = typed.text('/location').trim();
  function over(words: string): void {
    doing.over();
    typed.clear();
    onSaid(words);
  }
  return (
    <Section title="Taken out" note={held} id="emptied">
      <CommandForm
        path="/api/vessels/{vessel}/emptied"
        address={{ vessel }}
        submit={where === '' ? `Scrap ${held}` : `Put ${held} to ${where}`}
        danger={where === ''}
        keepAs={() => `${vessel} emptied`}
        body={(values) => ({ at: doing.at(), location: values.maybe('/location'), reason: values.text('/reason') })}
        onDone={() => over(`${vessel} is empty.`)}
        onKept={() => over(`That ${vessel} was emptied is kept on this device and sent when the server is back.`)}
      >
        <CodeField
          name="/location"
          label="Where it went"
          choices={locations}
          hint="Empty: it is thrown away."
          value={typed.text('/location')}
          onValue={(text) => typed.set('/location', text)}
        />
        <TextAreaField label="Why" required rows={2} {...typed.wired('/reason')} />
        {where === '' ? (
          <Caution>
            <p>
              {held} will be scrapped. Until a cleaning is recorded too, what clings to {vessel} goes into the next batch.
            </p>
          </Caution>
        ) : null}
      </CommandForm>
    </Section>
  );
}

function cleaningNote({ leftBy, lastBatch, cleanedAt }: View<'VesselContentView'>): string {
  if (leftBy !== null) return `ends what clings of ${leftBy}`;
  if (lastBatch !== null) return `ends what ${lastBatch} gives to the next batch`;
  return cleanedAt === null ? 'none is recorded yet' : 'it is clean; another cleaning can be recorded';
}

function Cleaned({ content, onSaid }: Props) {
  const { vessel } = content;
  const typed = useTyped(`clean ${vessel}`);
  const doing = useDoing();
  function over(words: string): void {
    doing.over();
    typed.clear();
    onSaid(words);
  }
  return (
    <Section title="Cleaned" note={cleaningNote(content)} id="cleaned">
      <CommandForm
        path="/api/vessels/{vessel}/cleaned"
        address={{ vessel }}
        submit={`Record that ${vessel} was cleaned`}
        keepAs={() => `${vessel} cleaned`}
        body={(values) => ({ at: doing.at(), method: values.text('/method') })}
        onDone={() => over(`${vessel} is clean.`)}
        onKept={() => over(`The cleaning of ${vessel} is kept on this device and sent when the server is back.`)}
      >
        <TextField label="How it was cleaned" required {...typed.wired('/method')} />
      </CommandForm>
    </Section>
  );
}

function Transfer({ content, onSaid }: Props) {
  const { vessel } = content;
  const typed = useTyped(`transfer ${vessel}`);
  const doing = useDoing();
  const vessels = (server.useQuery('get', '/api/vessels', {}, { staleTime: 60_000 }).data ?? []).filter(({ code }) => code !== vessel);
  if (vessels.length === 0) return null;
  const first = content.content[0];
  function over(words: string): void {
    doing.over();
    typed.clear();
    onSaid(words);
  }
  return (
    <Section title="Pumped over" note="a batch, or part of it, into another vessel">
      <CommandForm
        path="/api/vessels/{vessel}/transfers"
        address={{ vessel }}
        submit={`Record that it was pumped into ${typed.text('/to') || '…'}`}
        keepAs={({ lot, to }) => `${lot} pumped from ${vessel} into ${to}`}
        body={(values) => ({ lot: values.text('/lot'), quantity: values.maybe('/quantity'), to: values.text('/to'), at: doing.at() })}
        onDone={() => over(`It is in ${typed.text('/to')} now.`)}
        onKept={() => over('That it was pumped over is kept on this device and sent when the server is back.')}
      >
        <div className="grid">
          <ChoiceField
            label="Batch"
            choices={content.content.map(({ lot, name }) => ({ value: lot, says: `${lot}, ${name}` }))}
            {...typed.wired('/lot', first?.lot)}
          />
          <QuantityField label="How much" unit={first?.unit} hint="Empty: all of it." {...typed.wired('/quantity')} />
          <ChoiceField
            label="Into"
            none="choose a vessel"
            choices={vessels.map(({ code, name }) => ({ value: code, says: `${code} ${name}` }))}
            required
            {...typed.wired('/to')}
          />
        </div>
      </CommandForm>
    </Section>
  );
}
