import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import type { Reason } from '../../../shared/refusal.js';
import { api } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { localWritten } from '../app/clock.js';
import { TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Form } from '../design/form.js';
import { Section } from '../design/page.js';

/** A hash as papers print it, in groups; its first digits are enough to tell one from another. */
const FEWEST_DIGITS = 8;
const digitsOf = (text: string): string => text.replaceAll(/[\s.…]/gu, '').toLowerCase();
const seqOf = (text: string): number => Number(text.replaceAll(/\s/gu, ''));

function faultsIn(values: FormValues): Reason[] {
  const faults: Reason[] = [];
  const seq = seqOf(values.text('/seq'));
  if (!Number.isSafeInteger(seq) || seq < 1) {
    faults.push({ code: 'not-filled-in', detail: 'Ledger entry is a whole number from 1', pointer: '/seq' });
  }
  if (!/^[0-9a-f]+$/.test(digitsOf(values.text('/hash'))) || digitsOf(values.text('/hash')).length < FEWEST_DIGITS) {
    const detail = `Chain hash is at least ${FEWEST_DIGITS} digits of 0 to 9 and a to f`;
    faults.push({ code: 'not-filled-in', detail, pointer: '/hash' });
  }
  return faults;
}

/** Every report and certificate prints the entry it was made at and the chain hash there: whether that is still so. */
export function OlderPosition() {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [answer, setAnswer] = useState<{ seq: number; at: string; same: boolean; hash: string } | null>(null);
  async function compare(seq: number, digits: string): Promise<void> {
    setBusy(true);
    setProblem(null);
    setAnswer(null);
    try {
      const { data, error } = await api.GET('/api/ledger/entries/{seq}', { params: { path: { seq } } });
      if (data) setAnswer({ seq, at: data.at, same: data.hash.startsWith(digits), hash: data.hash });
      else setProblem(problemOf(error));
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
    }
  }
  return (
    <Section title="Check a printed report" note="by the ledger entry and the chain hash that it ends with" screenOnly>
      <Form
        label="Check a printed report"
        problem={problem}
        check={faultsIn}
        onSubmit={(values) => void compare(seqOf(values.text('/seq')), digitsOf(values.text('/hash')))}
      >
        <div className="grid">
          <TextField name="/seq" label="Ledger entry" inputMode="numeric" required />
          <TextField name="/hash" label="Chain hash" code required hint="as it is printed, in groups or not; the first digits are enough" />
        </div>
        <div className="row">
          <button type="submit" disabled={busy}>
            {busy ? 'Comparing …' : 'Compare'}
          </button>
        </div>
      </Form>
      {answer === null ? null : (
        <div className={answer.same ? 'notice' : 'caution'} role="status">
          <h3>{answer.same ? 'The record still has it so' : 'The record has another hash there'}</h3>
          <p>
            Entry {writtenCount(answer.seq)}, of {localWritten(answer.at, true)}, has the chain hash{' '}
            <code className="long-code">{answer.hash}</code>.{' '}
            {answer.same
              ? 'It stands for every entry up to that one: the report was made from this very history.'
              : 'Look for a mistake in typing. If there is none, an entry up to that one is another one than when the report was made.'}
          </p>
        </div>
      )}
    </Section>
  );
}
