import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Reason } from '../../../shared/refusal.js';
import { plantInstant } from '../app/clock.js';
import { useMe } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField, TextField } from '../design/fields.js';
import { Caution, Notice, Section } from '../design/page.js';
import { Photographs } from '../design/photographs.js';
import { useDraft } from '../outbox/use-draft.js';
import { useScan } from '../scan/scans.js';
import { Defects } from './defects.js';
import { Parts } from './parts.js';
import { emptyDraft, nextId, raiseBody, type RaiseDraft, type RaiseFrom } from './raise-draft.js';
import { asTitle, SEVERITIES, SOURCES } from './words.js';

const SEVERITY_MEANS = {
  critical: 'critical: somebody may come to harm, or the law is broken',
  major: 'major: it will likely fail, or be of much less use',
  minor: 'minor: it departs from the requirement with little effect',
} as const;

/** The report being written. It stays on this device through a reload, and is sent once when there is a connection again. */
export function RaiseForm({ name, from }: { name: string; from: RaiseFrom }) {
  const { person } = useMe();
  const [, go] = useLocation();
  const [initial] = useState(() => emptyDraft(from));
  const [draft, setDraft, clear] = useDraft<RaiseDraft>(`report ${person} ${name}`, initial);
  const [kept, setKept] = useState(false);
  const set = (change: Partial<RaiseDraft>): void => setDraft((before) => ({ ...before, ...change }));
  useScan((scan) => {
    const lot = scan.kind === 'gs1' ? scan.lot : scan.kind === 'plain' ? scan.text : null;
    if (lot === null) return false;
    setDraft((before) =>
      before.parts.some((part) => part.lot === lot)
        ? before
        : { ...before, parts: [...before.parts, { id: nextId(before.parts), lot, pieces: '', quantity: '' }] },
    );
    return true;
  });
  const given = from.inspection !== null;
  return (
    <CommandForm
      path="/api/reports"
      body={() => raiseBody(draft, from, plantInstant())}
      submit="Raise the report"
      check={() => missingOf(draft, from)}
      keepAs={() => `Report of ${draft.requirement || from.inspection || 'a nonconformity'}`}
      onDone={({ report }) => {
        clear();
        go(`/nonconformance/${report}`);
      }}
      onKept={() => {
        clear();
        setKept(true);
      }}
    >
      {kept ? (
        <Notice>
          <p>Kept on this device; it is raised and numbered when the server is back.</p>
        </Notice>
      ) : null}
      <What draft={draft} set={set} given={given} />
      <Section title="Affected" note="lots, and of a numbered lot its pieces; scan a label to add its lot">
        <Parts parts={draft.parts} onParts={(parts) => set({ parts })} given={given || from.trace !== null} />
        {draft.parts.length === 1 && from.trace === null && !given ? (
          <label className="check">
            <input type="checkbox" checked={draft.forward} onChange={(event) => set({ forward: event.target.checked })} /> Everything made
            from it is affected too, as the genealogy has it now
          </label>
        ) : null}
      </Section>
      <Section title="Evidence">
        <div className="form">
          <Defects defects={draft.defects} onDefects={(defects) => set({ defects })} />
          <TextAreaField
            name="/measured"
            label="Measured values"
            hint="As they were read, one a line"
            rows={2}
            value={draft.measured}
            onChange={(event) => set({ measured: event.target.value })}
          />
          <Photographs files={draft.files} onFiles={(files) => set({ files })} />
        </div>
      </Section>
      <div className="row">
        <button type="button" className="plain" onClick={clear}>
          Empty this draft
        </button>
      </div>
    </CommandForm>
  );
}

/** Where it was found, how grave it is, what is wrong against which requirement. */
function What({ draft, set, given }: { draft: RaiseDraft; set: (change: Partial<RaiseDraft>) => void; given: boolean }) {
  const source = SOURCES.find(({ value }) => value === draft.source);
  return (
    <Section title="What is wrong" note={given ? 'what is left empty is taken from the inspection' : undefined}>
      <div className="form">
        <div className="grid">
          {given ? null : (
            <>
              <ChoiceField
                name="/source/kind"
                label="Found"
                choices={SOURCES}
                value={draft.source}
                onChange={(event) => set({ source: event.target.value as RaiseDraft['source'] })}
              />
              <TextField
                name="/source/code"
                label={source?.code ?? 'Code'}
                hint="If there is one"
                code
                value={draft.sourceCode}
                onChange={(event) => set({ sourceCode: event.target.value })}
              />
            </>
          )}
          <ChoiceField
            name="/severity"
            label="Severity"
            choices={SEVERITIES.map((value) => ({ value, says: asTitle(value) }))}
            none={given ? 'As the inspection found' : 'Choose …'}
            hint={draft.severity === '' ? 'Quality may grade it anew at the review' : SEVERITY_MEANS[draft.severity]}
            value={draft.severity}
            onChange={(event) => set({ severity: event.target.value as RaiseDraft['severity'] })}
          />
          <TextField
            name="/foundAt"
            label="Found at"
            type="datetime-local"
            hint="Left empty: now"
            value={draft.foundAt}
            onChange={(event) => set({ foundAt: event.target.value })}
          />
        </div>
        {draft.severity === 'critical' ? (
          <Caution>
            <p>
              <strong>Critical: do not wait for this report.</strong> Stop the work and tell quality now. Whether goods that were shipped
              must be recalled, and whom the law says to tell within which time, is for the people responsible to decide.
            </p>
          </Caution>
        ) : null}
        <TextAreaField
          name="/requirement"
          label="Requirement that is not met"
          hint="As it is written in the plan, drawing, specification or order"
          rows={2}
          value={draft.requirement}
          onChange={(event) => set({ requirement: event.target.value })}
        />
        <TextAreaField
          name="/found"
          label="What was found instead"
          rows={3}
          value={draft.found}
          onChange={(event) => set({ found: event.target.value })}
        />
      </div>
    </Section>
  );
}

/** What a report from scratch cannot do without. */
function missingOf(draft: RaiseDraft, from: RaiseFrom): Reason[] {
  const no = (pointer: string, detail: string): Reason => ({ code: 'not-filled-in', detail, pointer });
  const lots = draft.parts.flatMap((part, i) => (part.lot.trim() === '' ? [no(`/parts/${i}/lot`, `Lot of line ${i + 1} is missing`)] : []));
  if (from.inspection !== null) return lots;
  return [
    ...(draft.severity === '' ? [no('/severity', 'Severity is missing')] : []),
    ...(draft.requirement.trim() === '' ? [no('/requirement', 'Requirement that is not met is missing')] : []),
    ...(draft.found.trim() === '' ? [no('/found', 'What was found instead is missing')] : []),
    ...(draft.parts.length === 0 && from.trace === null ? [no('/parts', 'Which lot is affected? Add one')] : []),
    ...lots,
  ];
}
