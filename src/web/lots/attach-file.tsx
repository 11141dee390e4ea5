import { useState } from 'react';
import { Dialog } from '../design/dialog.js';
import { ChoiceField, Field, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Form } from '../design/form.js';
import { FormButtons } from '../design/form-buttons.js';
import type { View } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { uploadFile } from '../wire/upload-file.js';
import { useCommand } from '../wire/use-command.js';
import { FILE_KINDS } from './file-kinds.js';

type What = View<'AttachFileDto'>['what'];
const KINDS = Object.entries(FILE_KINDS).map(([value, says]) => ({ value, says }));

/** Stores a file and says that it belongs to the lot. */
export function AttachFile({ lot, onClose }: { lot: string; onClose: () => void }) {
  const attach = useCommand('/api/lots/{lot}/files', { address: { lot } });
  const [refused, setRefused] = useState<Problem | null>(null);
  const [sending, setSending] = useState(false);
  async function send(values: FormValues): Promise<void> {
    const [file] = values.files('/file');
    if (file === undefined) return;
    setRefused(null);
    setSending(true);
    try {
      const stored = await uploadFile(file);
      const outcome = await attach.run({ file: stored.sha256, what: values.choice<What>('/what'), note: values.maybe('/note') });
      if ('done' in outcome) onClose();
    } catch (error) {
      setRefused(problemOf(error));
    } finally {
      setSending(false);
    }
  }
  return (
    <Dialog title={`Add to ${lot}`} onClose={onClose}>
      <Form problem={refused ?? attach.problem} onSubmit={(values) => void send(values)}>
        <Field name="/file" label="Photograph or paper" hint="JPEG, PNG, WebP, HEIC, PDF or plain text">
          {(wiring) => (
            <input
              type="file"
              accept="image/jpeg,image/png,image/webp,image/heic,application/pdf,text/plain"
              capture="environment"
              required
              {...wiring}
            />
          )}
        </Field>
        <ChoiceField name="/what" label="What it is" choices={KINDS} defaultValue="photograph" required />
        <TextField name="/note" label="Note" hint="what it shows, if its name does not say" />
        <FormButtons submit={`Add to ${lot}`} busy={sending} onCancel={onClose} />
      </Form>
    </Dialog>
  );
}
