import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { TextAreaField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { AttachFile } from './attach-file.js';
import { FILE_KINDS } from './file-kinds.js';

type LotFile = View<'LotFileView'>;

const KIB = 1024;

/** Photographs and papers of the lot. Nothing is taken away: a wrong attachment is said to be wrong. */
export function LotFiles({ lot }: { lot: string }) {
  const query = server.useQuery('get', '/api/lots/{lot}/files', { params: { path: { lot } } });
  const may = useMay('clerk', 'operator', 'inspector', 'quality', 'dispatcher', 'recall-lead', 'administrator');
  const [adding, setAdding] = useState(false);
  const [wrong, setWrong] = useState<LotFile | null>(null);
  return (
    <Section
      title="Files"
      note="kept by the SHA-256 of their content"
      actions={
        may ? (
          <button type="button" onClick={() => setAdding(true)}>
            Add a photograph or paper …
          </button>
        ) : null
      }
    >
      <Answered query={query} what="the files">
        {(files) => (
          <LedgerTable
            caption={`Files of ${lot}`}
            rows={files}
            rowKey={({ attachment }) => `${attachment}`}
            columns={[
              { head: 'File', cell: (file) => <FileLink file={file} /> },
              { head: 'What it is', cell: ({ what }) => FILE_KINDS[what] },
              { head: 'Note', cell: ({ note }) => note },
              { head: 'Size', num: true, cell: ({ bytes }) => `${writtenCount(Math.max(1, Math.round(bytes / KIB)))} KiB` },
              { head: 'Added', cell: ({ by, at }) => `${by}, ${localWritten(at)}` },
              { head: 'Stands', cell: (file) => <Stands file={file} may={may} onWrong={() => setWrong(file)} /> },
            ]}
            empty={
              <Empty>
                <p>No certificate, test report or photograph belongs to this lot yet. A tablet takes a photograph right here.</p>
              </Empty>
            }
          />
        )}
      </Answered>
      {adding ? <AttachFile lot={lot} onClose={() => setAdding(false)} /> : null}
      {wrong === null ? null : <Detach lot={lot} file={wrong} onClose={() => setWrong(null)} />}
    </Section>
  );
}

function FileLink({ file }: { file: LotFile }) {
  const address = `/api/files/${file.sha256}`;
  const isPicture = file.mediaType.startsWith('image/') && file.mediaType !== 'image/heic';
  return (
    <a className="lot-file" href={address} target="_blank" rel="noreferrer">
      {isPicture ? <img className="lot-file-thumb" src={address} alt="" loading="lazy" /> : null}
      {file.name}
    </a>
  );
}

function Stands({ file, may, onWrong }: { file: LotFile; may: boolean; onWrong: () => void }) {
  const { detached } = file;
  if (detached) {
    return (
      <span className="quiet">
        taken back by {detached.by}: {detached.reason}
      </span>
    );
  }
  return may ? (
    <button type="button" className="plain" onClick={onWrong}>
      It is wrong
    </button>
  ) : null;
}

function Detach({ lot, file, onClose }: { lot: string; file: LotFile; onClose: () => void }) {
  return (
    <Dialog title={`Take back ${file.name}`} onClose={onClose}>
      <p>
        The record will say that {file.name} does not belong to {lot}. The file and what was said of it stay readable.
      </p>
      <CommandForm
        path="/api/lots/{lot}/files/{attachment}/detachment"
        address={{ lot, attachment: `${file.attachment}` }}
        body={(values) => ({ reason: values.text('/reason') })}
        submit="Take it back"
        danger
        onDone={onClose}
        onCancel={onClose}
      >
        <TextAreaField name="/reason" label="What is wrong with it" required />
      </CommandForm>
    </Dialog>
  );
}
