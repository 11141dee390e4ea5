import { useState } from 'react';
import { inWords } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import type { Disposition, Report } from './report-parts.js';
import { Turn } from './step.js';
import { kindWords } from './words.js';

/** What was worked on is verified by an inspection that was opened after it and accepted the pieces. */
export function VerifyForm({ report, one, first }: { report: Report; one: Disposition; first: boolean }) {
  const may = useMay('quality', 'inspector');
  const [open, setOpen] = useState(first);
  const lot = one.carriedOut?.becomes ?? one.lot;
  const { data } = server.useQuery('get', '/api/inspections', { params: { query: { lot } } });
  const opens = one.carriedOut?.opens ?? null;
  const opened = data?.find(({ inspection }) => inspection === opens);
  const stands = opened === undefined ? '' : opened.verdict === null ? `, ${opened.state}` : `, ${inWords(opened.verdict)}`;
  return (
    <>
      <p>
        It waits for an inspection made after it
        {opens === null ? null : (
          <>
            : <Refer kind="inspection" code={opens} />
            {stands}
          </>
        )}
        .
      </p>
      {!may ? (
        <Turn who="an inspector or quality" what="verify it by that inspection" />
      ) : open ? (
        <div className="nc-due-form">
          <CommandForm
            path="/api/reports/{report}/dispositions/{disposition}/verification"
            address={{ report: report.report, disposition: one.disposition }}
            body={(values) => ({ inspection: values.text('/inspection') })}
            submit={`Verify disposition ${one.disposition}`}
            onDone={() => undefined}
          >
            <CodeField
              name="/inspection"
              label={`Inspection that accepted what was ${kindWords(one.kind).done}`}
              initial={opens ?? ''}
              choices={(data ?? []).map(({ inspection, state, verdict }) => ({
                code: inspection,
                says: verdict === null ? state : inWords(verdict),
              }))}
              required
            />
          </CommandForm>
        </div>
      ) : (
        <button type="button" onClick={() => setOpen(true)}>
          Verify disposition {one.disposition} …
        </button>
      )}
    </>
  );
}
