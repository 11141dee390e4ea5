import { useState } from 'react';
import { useMay } from '../app/session.js';
import { AddingUpBar, type Asked } from '../pictures/adding-up-bar.js';
import { totalWritten } from './amounts.js';
import { DispositionCard } from './disposition-card.js';
import { ProposeForm } from './propose-form.js';
import { type Disposed, type Report, sumsOf } from './report-parts.js';
import { Step, type StepStands, Turn } from './step.js';
import { type DispositionKind, kindWords } from './words.js';

const AT_WORK: readonly string[] = ['reviewed', 'dispositioned', 'carried-out'];
const BEFORE: readonly string[] = ['raised', 'contained'];

const saysKind = (kind: string): string => kindWords(kind as DispositionKind).says;

/** What becomes of everything affected, until it adds up: proposed, signed by whom the rule asks, carried out, verified. */
export function DispositionsStep({ report, disposed }: { report: Report; disposed: Disposed }) {
  const stands: StepStands = AT_WORK.includes(report.state) ? 'due' : BEFORE.includes(report.state) ? 'later' : 'done';
  const [asked, setAsked] = useState<(Asked & { lot: string }) | null>(null);
  const may = useMay('quality');
  const proposes = disposed.accounts.some(({ open }) => open !== '0') && AT_WORK.includes(report.state) && report.state !== 'carried-out';
  return (
    <Step id="dispositions" title="Dispositions" stands={stands} note={noteOf(disposed)}>
      {disposed.accounts.map((account) => (
        <div key={account.lot}>
          <h3>
            Lot <span className="code">{account.lot}</span>
          </h3>
          <AddingUpBar
            lot={account.lot}
            unit={account.unit}
            sums={sumsOf(account, disposed.dispositions)}
            asked={asked?.lot === account.lot ? asked : null}
            kindWords={saysKind}
          />
        </div>
      ))}
      {stands === 'later' ? <p className="quiet">Dispositions are proposed once the report is contained and reviewed.</p> : null}
      {disposed.dispositions.map((one) => (
        <DispositionCard key={one.disposition} report={report} one={one} first={firstDue(disposed) === one.disposition} />
      ))}
      {!proposes ? null : may ? (
        <ProposeForm
          key={disposed.dispositions.length}
          report={report}
          disposed={disposed}
          onAsked={setAsked}
          folded={firstDue(disposed) !== null}
        />
      ) : (
        <Turn who="quality" what={`propose what becomes of the undecided ${openWritten(disposed)}`} />
      )}
    </Step>
  );
}

const openWritten = (disposed: Disposed): string => totalWritten(disposed.accounts.map(({ open, unit }) => ({ quantity: open, unit })));

function noteOf(disposed: Disposed): string {
  const of = (what: 'affected' | 'disposed'): string =>
    totalWritten(disposed.accounts.map((one) => ({ quantity: one[what], unit: one.unit })));
  return disposed.addsUp ? `${of('affected')} affected, all disposed of` : `${of('disposed')} of ${of('affected')} disposed of`;
}

/** The first disposition that anything is still to be done about. */
function firstDue(disposed: Disposed): number | null {
  const due = disposed.dispositions.find(
    ({ state, kind, lacks }) =>
      state !== 'withdrawn' &&
      (lacks.length > 0 || state === 'signed' || (state === 'carried-out' && (kind === 'rework' || kind === 'repair'))),
  );
  return due?.disposition ?? null;
}
