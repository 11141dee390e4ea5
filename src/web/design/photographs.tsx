import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { type Problem, problemOf } from '../wire/problem.js';
import { type StoredFile, uploadFile } from '../wire/upload-file.js';
import { FileChooser } from './file-chooser.js';
import { Refused } from './refused.js';
import './photographs.css';

/**
 * Photographs and files that go with what is being written: taken with the tablet's camera or chosen, stored at once, named by their hash
 * when it is sent.
 */
export function Photographs({
  files,
  onFiles,
  label = 'Photographs and files',
}: {
  files: readonly StoredFile[];
  onFiles: (files: readonly StoredFile[]) => void;
  label?: string;
}) {
  const [left, setLeft] = useState(0);
  const [refused, setRefused] = useState<readonly Problem[]>([]);
  async function add(chosen: readonly File[]): Promise<void> {
    setRefused([]);
    setLeft(chosen.length);
    let kept = files;
    for (const file of chosen) {
      try {
        const stored = await uploadFile(file);
        if (!kept.some(({ sha256 }) => sha256 === stored.sha256)) kept = [...kept, stored];
        onFiles(kept);
      } catch (error) {
        const problem = problemOf(error);
        setRefused((before) => [...before, { ...problem, title: `${file.name}: ${problem.title}` }]);
      }
      setLeft((count) => count - 1);
    }
  }
  const busy = left > 0;
  return (
    <fieldset>
      <legend>{label}</legend>
      {refused.map((problem) => (
        <Refused key={problem.title} problem={problem} />
      ))}
      <div className="row">
        <FileChooser text="Take a photograph" accept="image/*" camera disabled={busy} onChoose={(list) => void add(list)} />
        <FileChooser text="Choose files" accept="image/*,application/pdf,text/plain" disabled={busy} onChoose={(list) => void add(list)} />
        <span className="quiet" role="status">
          {busy ? `Storing ${writtenCount(left)} …` : files.length === 0 ? 'None yet' : `${writtenCount(files.length)} stored`}
        </span>
      </div>
      <Chosen files={files} busy={busy} onDrop={(sha256) => onFiles(files.filter((one) => one.sha256 !== sha256))} />
    </fieldset>
  );
}

function Chosen({ files, busy, onDrop }: { files: readonly StoredFile[]; busy: boolean; onDrop: (sha256: string) => void }) {
  if (files.length === 0) return null;
  return (
    <ul className="thumbs">
      {files.map(({ sha256, name, mediaType }) => (
        <li key={sha256}>
          <Thumb sha256={sha256} name={name} picture={mediaType.startsWith('image/')} />
          <button type="button" className="plain" disabled={busy} onClick={() => onDrop(sha256)}>
            Leave out {name}
          </button>
        </li>
      ))}
    </ul>
  );
}

/** A stored picture, small, leading to itself; of any other file, or a picture that cannot be shown here, its name. */
function Thumb({ sha256, name, picture = true }: { sha256: string; name: string; picture?: boolean }) {
  const [shown, setShown] = useState(picture);
  const address = `/api/files/${sha256}`;
  return (
    <a className="thumb" href={address} target="_blank" rel="noreferrer">
      {shown ? <img src={address} alt={name} loading="lazy" onError={() => setShown(false)} /> : <span>{name}</span>}
    </a>
  );
}

/** Files that a record names by their hash. @param of what they belong to, in words */
export function Thumbs({ files, of }: { files: readonly string[]; of: string }) {
  if (files.length === 0) return null;
  return (
    <ul className="thumbs">
      {files.map((sha256, i) => (
        <li key={sha256}>
          <Thumb sha256={sha256} name={`File ${i + 1} of ${of}, ${sha256.slice(0, 8)} …`} />
        </li>
      ))}
    </ul>
  );
}
