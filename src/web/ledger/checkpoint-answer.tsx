import { useEffect, useRef } from 'react';
import { writtenCount } from '../../../shared/written.js';
import type { View } from '../wire/client.js';
import { localWritten } from '../app/clock.js';
import { Refused } from '../design/refused.js';
import { useStartCheck } from './use-start-check.js';

type Check = View<'CheckpointCheckView'>;

/** What is to be said of each standing of a signature. */
const SIGNED: Readonly<Record<Check['signature'], string>> = {
  plant: 'The signature is good: this plant made it, and not a letter of it was changed since.',
  wrong:
    'The signature is wrong: it says that this plant signed it, but not this text. The checkpoint was changed, or copied with a mistake.',
  'other-key': 'It is signed with another key than this plant has now: whether this plant made it cannot be told here.',
  none: 'It bears no signature: whether this plant made it cannot be told.',
};

function heading({ continues, signature }: Check): string {
  if (!continues) return signature === 'wrong' ? 'This checkpoint proves nothing' : 'The record is not its continuation';
  return signature === 'plant' ? 'The record continues it' : 'The record continues it, but the checkpoint is not proved to be the plant’s';
}

/** What the check of an older checkpoint found, either way in clear words. */
export function CheckpointAnswer({ check, note, mayVerify }: { check: Check; note: string; mayVerify: boolean }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.focus(), [check]);
  const { size, at, continues, fault, now, signature } = check;
  const isGood = continues && signature === 'plant';
  return (
    <div className={isGood ? 'notice' : 'caution'} role="status" tabIndex={-1} ref={box}>
      <h3>{heading(check)}</h3>
      <ul>
        <li>
          It is of {check.origin}, {writtenCount(size)} {size === 1 ? 'entry' : 'entries'}
          {at === null ? '' : `, ${localWritten(at, true)}`}.
        </li>
        <li>{SIGNED[signature]}</li>
        <li>
          {continues
            ? grown(size, now.size)
            : `Today’s ledger of ${writtenCount(now.size)} entries is not its continuation: ${fault?.detail}.`}
        </li>
        {continues || signature === 'wrong' ? null : (
          <li>Keep the checkpoint, and have the whole record checked: a backup from before may show what was changed.</li>
        )}
      </ul>
      {mayVerify ? <CheckAll note={note} /> : null}
    </div>
  );
}

const grown = (size: number, now: number): string =>
  now === size
    ? 'Today’s ledger is the very one it was made of; nothing came since.'
    : `Today’s ledger begins with the very entries it was made of; ${writtenCount(now - size)} came since.`;

/** This compared hashes as they are stored; whether each is that of its text, the whole check says. */
function CheckAll({ note }: { note: string }) {
  const { start, busy, problem } = useStartCheck();
  async function startAndShow(): Promise<void> {
    if (await start({ checkpoint: note })) document.getElementById('checks')?.scrollIntoView({ block: 'start' });
  }
  return (
    <>
      {problem === null ? null : <Refused problem={problem} />}
      <p>
        This compared the hashes of the entries. The whole check also recomputes each of them from its text, and everything that follows.
      </p>
      <button type="button" disabled={busy} onClick={() => void startAndShow()}>
        Check the whole record against it
      </button>
    </>
  );
}
