import { useState } from 'react';
import { Link } from 'wouter';
import { inWords, writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { TextAreaField } from '../design/fields.js';
import { Thumbs } from '../design/photographs.js';
import { Refer } from '../design/refer.js';
import { amount, partWritten, piecesWritten } from './amounts.js';
import { CarryOutForm } from './carry-out-form.js';
import type { Disposition, Report } from './report-parts.js';
import { Signatures } from './signatures.js';
import { VerifyForm } from './verify-form.js';
import { kindWords } from './words.js';

const STANDS: Readonly<Record<Disposition['state'], string>> = {
  proposed: 'waits for signatures',
  signed: 'signed, to be carried out',
  'carried-out': 'carried out',
  verified: 'verified',
  withdrawn: 'taken back',
};

const worked = ({ kind }: Disposition): boolean => kind === 'rework' || kind === 'repair';

/** One disposition: what is decided for which part, who signed exactly what, and how it was carried out. Its next step stands in it. */
export function DispositionCard({ report, one, first }: { report: Report; one: Disposition; first: boolean }) {
  const taken = one.state === 'withdrawn';
  return (
    <article className={`nc-disposition ${one.state}`} aria-label={`Disposition ${one.disposition}`}>
      <header>
        <h3>
          {one.disposition}. {kindWords(one.kind).says}: {partWritten(one)} of <span className="code">{one.lot}</span>
        </h3>
        <span className="nc-stands">{one.state === 'carried-out' && worked(one) ? 'carried out, to be inspected' : STANDS[one.state]}</span>
      </header>
      <Terms one={one} />
      {taken ? (
        <p>
          <strong>Taken back:</strong> {one.withdrawn}. Its part was open again.
        </p>
      ) : (
        <Signatures report={report} one={one} first={first} />
      )}
      {one.carriedOut === null ? null : <CarriedOut one={one} done={one.carriedOut} />}
      {one.state === 'signed' ? <CarryOut report={report} one={one} first={first} /> : null}
      {one.state === 'carried-out' && worked(one) ? <VerifyForm report={report} one={one} first={first} /> : null}
      {one.verifiedBy === null ? null : (
        <p>
          Verified by inspection <Refer kind="inspection" code={one.verifiedBy} />.
        </p>
      )}
      {one.state === 'proposed' || one.state === 'signed' ? <TakeBack report={report} one={one} /> : null}
    </article>
  );
}

function Terms({ one }: { one: Disposition }) {
  const { concession } = one;
  return (
    <dl className="nc-told">
      <dt>Of lot</dt>
      <dd>
        <Refer kind="lot" code={one.lot} />, item <Refer kind="item" code={one.item} />
      </dd>
      <dt>Why</dt>
      <dd>{one.reason}</dd>
      {one.adverseEffect === null ? null : (
        <>
          <dt>Adverse effect</dt>
          <dd>{one.adverseEffect}</dd>
        </>
      )}
      {one.regradeTo === null ? null : (
        <>
          <dt>Becomes item</dt>
          <dd>
            <Refer kind="item" code={one.regradeTo} />
          </dd>
        </>
      )}
      {concession === null ? null : (
        <>
          <dt>Concession</dt>
          <dd>
            by {concession.authorisedBy} ({inWords(concession.authority)}), {concession.reference}, until {writtenDate(concession.until)}
            {concession.left === null ? '' : `; ${amount(concession.left, one.unit)} may still go`}
          </dd>
        </>
      )}
      <dt>Proposed by</dt>
      <dd>
        <code>{one.proposedBy}</code>, entry <Refer kind="entry" code={`${one.proposedSeq}`} />
      </dd>
    </dl>
  );
}

function CarriedOut({ one, done }: { one: Disposition; done: NonNullable<Disposition['carriedOut']> }) {
  const side = (text: string | null): string =>
    text === null ? 'none' : one.pieces === null ? amount(text, one.unit) : `pieces ${piecesWritten(text)}`;
  return (
    <div>
      <p>
        <strong>Carried out</strong> {localWritten(done.at)} by <code>{done.by}</code>: {done.note}
        {done.document === null ? '' : ` (document ${done.document})`}
        {done.run === null ? null : (
          <>
            ; in run <Refer kind="run" code={done.run} />
          </>
        )}
        {done.becomes === null ? null : (
          <>
            ; now lot <Refer kind="lot" code={done.becomes} />
          </>
        )}
        {done.opens === null ? null : (
          <>
            ; opened inspection <Refer kind="inspection" code={done.opens} />
          </>
        )}
        {done.hold === null ? null : (
          <>
            ; marked by hold <Refer kind="hold" code={done.hold} />
          </>
        )}
      </p>
      {done.sorted === null ? null : (
        <p>
          Sorted: {side(done.sorted.conforming)} conform, {side(done.sorted.nonconforming)} do not.
        </p>
      )}
      <Thumbs files={done.files} of={`disposition ${one.disposition}`} />
    </div>
  );
}

function CarryOut({ report, one, first }: { report: Report; one: Disposition; first: boolean }) {
  const may = useMay('quality', 'operator', 'inspector', 'dispatcher');
  const [open, setOpen] = useState(first);
  return (
    <>
      {worked(one) ? (
        <p>
          It is done in a rework run:{' '}
          <Link href={`/production/start?report=${encodeURIComponent(report.report)}&disposition=${one.disposition}`} className="button">
            Start the {one.kind} run
          </Link>
        </p>
      ) : null}
      {!may ? null : open ? (
        <CarryOutForm report={report} one={one} />
      ) : (
        <button type="button" onClick={() => setOpen(true)}>
          Disposition {one.disposition} was carried out …
        </button>
      )}
    </>
  );
}

/** A disposition is taken back, with a reason, until it is carried out. */
function TakeBack({ report, one }: { report: Report; one: Disposition }) {
  const may = useMay('quality');
  const [asking, setAsking] = useState(false);
  if (!may) return null;
  return (
    <div className="row no-print">
      <button type="button" className="plain" onClick={() => setAsking(true)}>
        Take disposition {one.disposition} back
      </button>
      {asking ? (
        <Dialog title={`Take disposition ${one.disposition} back`} onClose={() => setAsking(false)}>
          <p>
            {partWritten(one)} of {one.lot} become undecided again. The signatures on it count no more; both stay readable.
          </p>
          <CommandForm
            path="/api/reports/{report}/dispositions/{disposition}/withdrawal"
            address={{ report: report.report, disposition: one.disposition }}
            body={(values) => ({ reason: values.text('/reason') })}
            submit="Take it back"
            danger
            onDone={() => setAsking(false)}
            onCancel={() => setAsking(false)}
          >
            <TextAreaField name="/reason" label="Why" rows={2} required />
          </CommandForm>
        </Dialog>
      ) : null}
    </div>
  );
}
