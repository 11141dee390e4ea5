import { useState } from 'react';
import { inWords, writtenHash } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { type Role, useMe } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextField } from '../design/fields.js';
import { Caution } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { partWritten } from './amounts.js';
import type { Disposition, Report } from './report-parts.js';
import { kindWords } from './words.js';

/** Functions that sign dispositions; the auditor changes nothing. */
const SIGNING: readonly Role[] = ['quality', 'operator', 'inspector', 'dispatcher', 'recall-lead', 'administrator'];
const HASH_LETTERS = 16;

/** Who must sign as what, who signed when and exactly what, and the form for who has not. A broken signature cannot be missed. */
export function Signatures({ report, one, first }: { report: Report; one: Disposition; first: boolean }) {
  const broken = one.signatures.filter((signature) => signature.broken);
  return (
    <div className="nc-signatures">
      {broken.length === 0 ? null : (
        <Caution>
          <p>
            <strong>{broken.length === 1 ? 'A signature is broken.' : `${broken.length} signatures are broken.`}</strong> What was signed
            has changed since: the severity, the requirement or the terms. {broken.length === 1 ? 'It counts' : 'They count'} no more.
          </p>
        </Caution>
      )}
      <ul>
        {one.signatures.map((signature) => (
          <li key={signature.seq} className={signature.broken ? 'nc-signature broken' : 'nc-signature'}>
            {signature.broken ? <span className="nc-broken-mark">Broken</span> : null}
            <span className="nc-signer">
              <code>{signature.by}</code> as {inWords(signature.as)}
            </span>{' '}
            {localWritten(signature.at)}, entry <Refer kind="entry" code={`${signature.seq}`} />
            <span className="nc-meaning">“{signature.meaning}”</span>
            <span className="nc-digest">
              signed what has the digest <code>{writtenHash(signature.digest, HASH_LETTERS)}</code>
              {signature.broken && one.digest !== null ? (
                <>
                  ; what stands now has <code>{writtenHash(one.digest, HASH_LETTERS)}</code>
                </>
              ) : null}
            </span>
          </li>
        ))}
        {one.lacks.map((lack) => (
          <li key={lack} className="nc-signature nc-lacking">
            Still lacks <strong>{lack}</strong>
          </li>
        ))}
      </ul>
      {one.lacks.length > 0 && one.state !== 'withdrawn' ? <Sign report={report} one={one} first={first} /> : null}
    </div>
  );
}

function Sign({ report, one, first }: { report: Report; one: Disposition; first: boolean }) {
  const me = useMe();
  const [open, setOpen] = useState(first);
  const functions = SIGNING.filter((role) => me.roles.includes(role));
  const signed = one.signatures.some(({ by, broken }) => by === me.person && !broken);
  if (signed) return <p className="quiet">You have signed it. The other signature is for somebody else: one person signs once.</p>;
  if (functions.length === 0) return null;
  if (!open) {
    return (
      <button type="button" onClick={() => setOpen(true)}>
        Sign disposition {one.disposition} …
      </button>
    );
  }
  return <SignForm report={report} one={one} functions={functions} />;
}

function SignForm({ report, one, functions }: { report: Report; one: Disposition; functions: readonly Role[] }) {
  const [as, setAs] = useState<Role>(functions[0] ?? 'quality');
  const lacks = one.lacks.find((lack) => lack.startsWith('a signature of '))?.replace('a signature of ', '');
  return (
    <div className="nc-due-form">
      <CommandForm
        path="/api/reports/{report}/dispositions/{disposition}/signature"
        address={{ report: report.report, disposition: one.disposition }}
        body={(values) => ({ as, password: values.password('/password') })}
        submit={`Sign disposition ${one.disposition} as ${inWords(as)}`}
        onDone={() => undefined}
      >
        <fieldset className="sheet form">
          <legend>Your signature</legend>
          <p>
            You sign, <strong>as {inWords(as)}</strong>, that{' '}
            <strong>
              {partWritten(one)} of {one.lot} {one.quantity === '1' && one.unit === 'each' ? 'is' : 'are'} to be {kindWords(one.kind).done}
            </strong>
            , because: {one.reason}. It answers a {report.severity} departure from: {report.requirement}. The record keeps your name and the
            time with it for good; if any of this changes, your signature breaks.
          </p>
          {one.digest === null ? null : (
            <p className="nc-digest">
              Digest of what you sign: <code>{writtenHash(one.digest, HASH_LETTERS)}</code>
            </p>
          )}
          <div className="grid">
            {functions.length === 1 ? null : (
              <ChoiceField
                name="/as"
                label="You sign as"
                hint={lacks === undefined ? undefined : `${lacks} is lacking`}
                choices={functions.map((value) => ({ value, says: inWords(value) }))}
                value={as}
                onChange={(event) => setAs(event.target.value as Role)}
              />
            )}
            <TextField name="/password" label="Your password" type="password" autoComplete="current-password" required />
          </div>
        </fieldset>
      </CommandForm>
    </div>
  );
}
