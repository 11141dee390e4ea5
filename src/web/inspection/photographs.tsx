import { useId, useState } from 'react';
import { Refused } from '../design/refused.js';
import { api, type View } from '../wire/client.js';
import { type Problem, problemOf } from '../wire/problem.js';
import './photographs.css';

type StoredFile = View<'StoredFileView'>;

/**
 * Stores a file under the SHA-256 of its content.
 * @throws Unreachable without a connection; a Problem when the server does not take it
 */
async function storeFile(file: File): Promise<StoredFile> {
  const form = new FormData();
  form.append('file', file, file.name);
  const { data, error } = await api.POST('/api/files', { body: form as never, bodySerializer: (body) => body as never });
  if (error !== undefined || data === undefined) throw error ?? new Error(`${file.name} was not stored`);
  return data;
}

/** Photographs from the tablet's camera, or files: stored as soon as they are taken, and named by their hash from then on. */
export function Photographs({ files, onFiles }: { files: readonly string[]; onFiles: (files: readonly string[]) => void }) {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  async function take(chosen: readonly File[]): Promise<void> {
    setBusy(true);
    setProblem(null);
    try {
      const stored: string[] = [];
      for (const file of chosen) stored.push((await storeFile(file)).sha256);
      onFiles([...new Set([...files, ...stored])]);
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setBusy(false);
    }
  }
  return (
    <div className="row end photographs-of">
      <Chooser label="Take a photograph" camera busy={busy} onTake={take} />
      <Chooser label="Choose a file" busy={busy} onTake={take} />
      {busy ? (
        <span className="hint" role="status">
          Storing …
        </span>
      ) : null}
      {problem ? <Refused problem={problem} /> : null}
      <Pictures files={files} onTakeOff={(sha256) => onFiles(files.filter((one) => one !== sha256))} />
    </div>
  );
}

function Chooser({
  label,
  camera = false,
  busy,
  onTake,
}: {
  label: string;
  camera?: boolean;
  busy: boolean;
  onTake: (chosen: readonly File[]) => Promise<void>;
}) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="file"
        accept={camera ? 'image/*' : 'image/*,application/pdf,text/plain'}
        {...(camera ? { capture: 'environment' as const } : { multiple: true })}
        disabled={busy}
        onChange={(event) => {
          void onTake([...(event.target.files ?? [])]);
          event.target.value = '';
        }}
      />
    </div>
  );
}

/** Stored pictures, small, each leading to the whole. What is no picture shows its hash. */
export function Pictures({ files, onTakeOff }: { files: readonly string[]; onTakeOff?: (sha256: string) => void }) {
  if (files.length === 0) return null;
  return (
    <ul className="pictures">
      {files.map((sha256, at) => (
        <li key={sha256}>
          <a href={`/api/files/${sha256}`} target="_blank" rel="noreferrer">
            <img src={`/api/files/${sha256}`} alt={`File ${at + 1}, ${sha256.slice(0, 8)}`} loading="lazy" />
          </a>
          {onTakeOff === undefined ? null : (
            <button type="button" onClick={() => onTakeOff(sha256)}>
              Take off
            </button>
          )}
        </li>
      ))}
    </ul>
  );
}
