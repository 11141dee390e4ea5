import { useState } from 'react';
import { Said } from '../design/said.js';
import { useScan, useTakeScan } from '../scan/scans.js';
import { Candidates } from './candidates.js';
import { useChargeDraft } from './charge-draft.js';
import { FittingList } from './fitting-list.js';
import { askedOf, sayAsked } from './found-code.js';
import { FoundCode } from './found-code-view.js';
import { amountOf, type Run } from './run.js';
import { useTakenBack } from './use-taken-back.js';
import { leftMicro, nextWant, type Want } from './wants.js';

/** What to charge next, and the place where a scan is answered: one step at a time, the next one first. */
export function ChargePanel({ run }: { run: Run }) {
  const drafting = useChargeDraft(run.run);
  const [said, setSaid] = useState('');
  const { draft } = drafting;
  const next = nextWant(run);
  useTakenBack(run.run, drafting);
  useScan((scan, text) => {
    const asked = askedOf(scan, text);
    if (asked === null) return false;
    setSaid('');
    drafting.ask(asked);
    return true;
  });
  return (
    <div className="charge-panel">
      {next === null ? null : <NextWant want={next} of={run.steps.length} />}
      <Said says={said} />
      <CodeBox />
      {draft.asked === null ? (
        <Candidates want={next} onTake={(lot) => drafting.ask({ text: lot })} />
      ) : (
        <FoundCode
          key={sayAsked(draft.asked)}
          run={run}
          asked={draft.asked}
          drafting={drafting}
          onDone={(words) => {
            drafting.ask(null);
            setSaid(words);
          }}
        />
      )}
      {draft.gathered.length === 0 ? null : <FittingList run={run} drafting={drafting} onDone={setSaid} />}
    </div>
  );
}

/** The step that is due, in large letters. */
function NextWant({ want, of }: { want: Want; of: number }) {
  const { step, name, item, unit, targetMicro, lowMicro, highMicro } = want;
  return (
    <div className="next-want">
      <p className="quiet">{step === null ? 'Next to charge' : `Next: step ${step} of ${of}`}</p>
      <p className="next-name">
        {name} <code>{item}</code>
      </p>
      {targetMicro === null ? null : (
        <p className="next-amount">
          {amountOf(leftMicro(want), unit)}
          {highMicro === null || lowMicro === null ? null : (
            <small className="quiet">
              {' '}
              in all between {amountOf(lowMicro, unit)} and {amountOf(highMicro, unit)}
            </small>
          )}
        </p>
      )}
    </div>
  );
}

/** For a label that no scanner reads: what is typed here is taken as if it had been scanned. */
function CodeBox() {
  const take = useTakeScan();
  const [text, setText] = useState('');
  return (
    <form
      className="code-box"
      onSubmit={(event) => {
        event.preventDefault();
        if (text.trim() === '') return;
        take(text.trim());
        setText('');
      }}
    >
      <div className="field">
        <label htmlFor="charge-code">Scan the lot, or type its code</label>
        <input
          id="charge-code"
          className="code"
          value={text}
          onChange={(event) => setText(event.target.value)}
          autoComplete="off"
          autoCapitalize="off"
          autoCorrect="off"
          spellCheck={false}
        />
      </div>
      <button type="submit">Take it</button>
    </form>
  );
}
