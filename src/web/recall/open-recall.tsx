import { useState } from 'react';
import { useLocation, useSearch } from 'wouter';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TextField, TickField } from '../design/fields.js';
import { Caution, Notice, Page, Section } from '../design/page.js';
import { HowMuch } from './how-much.js';
import { originOfAddress, originsOfText, textOfOrigin } from './origin.js';
import { TYPES } from './words.js';

/** Opens a recall or a drill. It freezes the scope at this position of the ledger; nothing is sent to anyone by it. */
export function OpenRecall() {
  const [, go] = useLocation();
  const asked = new URLSearchParams(useSearch());
  const origin = originOfAddress(asked);
  const [from, setFrom] = useState(origin === null ? '' : textOfOrigin(origin));
  const mayOpen = useMay('quality', 'recall-lead');
  if (!mayOpen) {
    return (
      <Page title="Open a recall" crumb="Recall">
        <Notice>
          <p>
            A recall is opened by a recall lead or by quality. Tell them what you found; a nonconformance report can be raised by anyone.
          </p>
        </Notice>
      </Page>
    );
  }
  return (
    <Page title="Open a recall" crumb="Recall" sub="The scope is traced forward and frozen as known at this entry of the ledger.">
      <Caution>
        <p>
          Whether goods are recalled, and what authorities and customers are told, is decided by the people whom your plant and the law
          charge with it. Opening one here records the scope; it tells nobody.
        </p>
      </Caution>
      <CommandForm
        path="/api/recalls"
        submit="Open it and freeze the scope"
        body={(values) => ({
          title: values.text('/title'),
          type: values.choice('/type'),
          drill: values.on('/drill'),
          scope: values.choice('/scope'),
          reason: values.text('/reason'),
          hazard: values.maybe('/hazard'),
          instruction: values.maybe('/instruction'),
          contact: values.maybe('/contact'),
          reports: values.codes('/reports').length === 0 ? undefined : values.codes('/reports'),
          origin: originsOfText(values.text('/origin')),
        })}
        onDone={({ recall }) => go(`/recall/${encodeURIComponent(recall)}`)}
      >
        <TickField
          name="/drill"
          label="This is a drill"
          hint="marked DRILL on every page and in its report; nobody is sent anything"
          defaultChecked={asked.has('drill')}
        />
        <Section title="What is called back">
          <div className="form">
            <TextField name="/title" label="Title" required />
            <TextAreaField
              name="/origin"
              label="Traced from, one a line"
              className="code"
              required
              value={from}
              onChange={(event) => setFrom(event.target.value)}
              hint="a lot; a lot and its pieces (F26-00038 1-370,400); or serial, supplier-lot, run, shipment and its code, and of which item or supplier (serial K-00104 of PUMP)"
            />
            <HowMuch text={from} />
            <div className="grid">
              <ChoiceField
                name="/scope"
                label="Scope acted on"
                choices={[
                  { value: 'narrow', says: 'narrow: the recorded pieces' },
                  { value: 'conservative', says: 'conservative: whole lots' },
                ]}
                defaultValue={asked.get('scope') ?? 'narrow'}
              />
              <ChoiceField name="/type" label="Kind" choices={TYPES} />
              <TextField
                name="/reports"
                label="Nonconformance reports"
                code
                hint="it comes from; several with commas"
                defaultValue={asked.get('reports') ?? ''}
              />
            </div>
          </div>
        </Section>
        <Section title="Why">
          <div className="form">
            <TextAreaField name="/reason" label="Why it is called back, and how that was found" required />
            <TextAreaField name="/hazard" label="Who may come to harm and how, as far as known" />
            <TextAreaField name="/instruction" label="What holders are asked to do" />
            <TextField name="/contact" label="Whom holders may ask" />
          </div>
        </Section>
      </CommandForm>
    </Page>
  );
}
