import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { api, type View } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { TextAreaField } from '../design/fields.js';
import { FileChooser } from '../design/file-chooser.js';
import { Form } from '../design/form.js';
import { Section } from '../design/page.js';
import { useMay } from '../app/session.js';
import { CheckpointAnswer } from './checkpoint-answer.js';
import './ledger.css';

type Check = View<'CheckpointCheckView'>;

/** Takes a checkpoint that somebody kept, from a paper or a file, and says whether the ledger of today continues it. */
export function OlderCheckpoint() {
  const [note, setNote] = useState('');
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [answer, setAnswer] = useState<{ note: string; check: Check } | null>(null);
  const mayVerify = useMay('quality', 'auditor', 'administrator');

  async function check(): Promise<void> {
    setBusy(true);
    setProblem(null);
    setAnswer(null);
    try {
      const { data, error } = await api.POST('/api/ledger/checkpoint/checks', { body: { note } });
      if (data) setAnswer({ note, check: data });
      else setProblem(problemOf(error));
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
    }
  }
  function take(text: string): void {
    setNote(text);
    setAnswer(null);
    setProblem(null);
  }
  return (
    <Section title="Check an older checkpoint" note="is today’s record still the continuation of it?" screenOnly>
      <Form label="Check an older checkpoint" problem={problem} onSubmit={() => void check()}>
        <TextAreaField
          name="/note"
          label="Checkpoint"
          hint="Whole, from whose ledger it is to the signature: copied, or from the file that was kept."
          className="code"
          rows={7}
          required
          spellCheck={false}
          value={note}
          onChange={(event) => take(event.target.value)}
        />
        <div className="row">
          <button type="submit" className="primary" disabled={busy}>
            {busy ? 'Checking …' : 'Check it'}
          </button>
          <ChooseNote onRead={take} />
        </div>
      </Form>
      {answer === null ? null : <CheckpointAnswer check={answer.check} note={answer.note} mayVerify={mayVerify} />}
    </Section>
  );
}

/** Longer is no checkpoint, and might be a photograph. */
const MOST_BYTES = 20_000;

function ChooseNote({ onRead }: { onRead: (text: string) => void }) {
  const [fault, setFault] = useState<string | null>(null);
  async function read(file: File | undefined): Promise<void> {
    if (file === undefined) return;
    if (file.size > MOST_BYTES) {
      setFault(`${file.name} has ${writtenCount(file.size)} bytes: a checkpoint is a few lines of text.`);
      return;
    }
    setFault(null);
    onRead(await file.text());
  }
  return (
    <>
      <FileChooser text="Take it from a file" accept=".txt,text/plain" disabled={false} onChoose={([file]) => void read(file)} />
      {fault === null ? null : (
        <span className="fault" role="alert">
          {fault}
        </span>
      )}
    </>
  );
}
