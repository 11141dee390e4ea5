import { useId, useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { Refused } from '../design/refused.js';
import { api, type View } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';

export type KeptFile = View<'StoredFileView'>;

/** Stores one file under the hash of its content. @throws Unreachable without a connection; a Problem when the server says no */
async function store(file: File): Promise<KeptFile> {
  const form = new FormData();
  form.append('file', file, file.name);
  const { data, error } = await api.POST('/api/files', { body: form as never, bodySerializer: (body) => body as never });
  if (error !== undefined || data === undefined) throw error ?? new Error(`${file.name} was not stored`);
  return data;
}

/**
 * Photographs and files that go with what is being written: taken with the tablet's camera or chosen, stored at once, named by their hash
 * when it is sent.
 */
export function Photographs({
  files,
  onFiles,
  label = 'Photographs and files',
}: {
  files: readonly KeptFile[];
  onFiles: (files: readonly KeptFile[]) => void;
  label?: string;
}) {
  const [busy, setBusy] = useState(0);
  const [problem, setProblem] = useState<Problem | null>(null);
  async function add(chosen: FileList | null): Promise<void> {
    const list = [...(chosen ?? [])];
    setProblem(null);
    setBusy(list.length);
    let kept = files;
    for (const file of list) {
      try {
        const stored = await store(file);
        if (!kept.some(({ sha256 }) => sha256 === stored.sha256)) kept = [...kept, stored];
        onFiles(kept);
      } catch (error) {
        setProblem(problemOf(error));
      }
      setBusy((left) => left - 1);
    }
    setBusy(0);
  }
  return (
    <fieldset>
      <legend>{label}</legend>
      {problem === null ? null : <Refused problem={problem} />}
      <div className="row">
        <Chooser text="Take a photograph" camera onChoose={(list) => void add(list)} />
        <Chooser text="Choose files" onChoose={(list) => void add(list)} />
        <span className="quiet" role="status">
          {busy > 0 ? `Storing ${writtenCount(busy)} …` : files.length === 0 ? 'None yet' : `${writtenCount(files.length)} stored`}
        </span>
      </div>
      <Chosen files={files} onDrop={(sha256) => onFiles(files.filter((one) => one.sha256 !== sha256))} />
    </fieldset>
  );
}

function Chooser({ text, camera = false, onChoose }: { text: string; camera?: boolean; onChoose: (list: FileList | null) => void }) {
  const id = useId();
  return (
    <span className="nc-chooser">
      <input
        id={id}
        type="file"
        className="hidden-but-read"
        accept={camera ? 'image/*' : 'image/*,application/pdf,text/plain'}
        {...(camera ? { capture: 'environment' as const } : { multiple: true })}
        onChange={(event) => {
          onChoose(event.target.files);
          event.target.value = '';
        }}
      />
      <label htmlFor={id} className="button">
        {text}
      </label>
    </span>
  );
}

function Chosen({ files, onDrop }: { files: readonly KeptFile[]; onDrop: (sha256: string) => void }) {
  if (files.length === 0) return null;
  return (
    <ul className="nc-thumbs">
      {files.map(({ sha256, name, mediaType }) => (
        <li key={sha256}>
          <Thumb sha256={sha256} name={name} picture={mediaType.startsWith('image/')} />
          <button type="button" className="plain" onClick={() => onDrop(sha256)}>
            Leave out {name}
          </button>
        </li>
      ))}
    </ul>
  );
}

/** A stored picture, small, leading to itself; of any other file, or a picture that cannot be shown here, its name. */
export function Thumb({ sha256, name, picture = true }: { sha256: string; name: string; picture?: boolean }) {
  const [shown, setShown] = useState(picture);
  const address = `/api/files/${sha256}`;
  return (
    <a className="nc-thumb" href={address} target="_blank" rel="noreferrer">
      {shown ? <img src={address} alt={name} loading="lazy" onError={() => setShown(false)} /> : <span>{name}</span>}
    </a>
  );
}

/** Files that a record names by their hash. */
export function Thumbs({ files, of }: { files: readonly string[]; of: string }) {
  if (files.length === 0) return null;
  return (
    <ul className="nc-thumbs">
      {files.map((sha256, i) => (
        <li key={sha256}>
          <Thumb sha256={sha256} name={`File ${i + 1} of ${of}, ${sha256.slice(0, 8)} …`} />
        </li>
      ))}
    </ul>
  );
}
