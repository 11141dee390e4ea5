import { useSyncExternalStore } from 'react';
import { newId } from '../app/new-id.js';
import { nowMs } from '../app/clock.js';
import type { View } from '../wire/client.js';
import { type Problem, problemOf, Unreachable } from '../wire/problem.js';
import type { Chosen } from './import-files.js';
import { markOf } from './import-files.js';

/** A problem whose reasons are faults of files; there may be more than are listed. */
export type FileProblem = Problem & { readonly faultCount?: number };

/** How far an import has come. It goes on while one looks at other pages, and its outcome waits here. */
export type ImportRun =
  | { readonly phase: 'none' }
  | { readonly phase: 'sending'; readonly dryRun: boolean; readonly sent: number; readonly of: number }
  | { readonly phase: 'checking'; readonly dryRun: boolean; readonly sinceMs: number }
  | { readonly phase: 'done'; readonly mark: string; readonly report: View<'ImportReportView'> }
  | { readonly phase: 'refused'; readonly mark: string; readonly dryRun: boolean; readonly problem: FileProblem };

let run: ImportRun = { phase: 'none' };
const listeners = new Set<() => void>();
const set = (next: ImportRun): void => {
  run = next;
  listeners.forEach((tell) => tell());
};
const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => void listeners.delete(listener);
};

/** The import under way or done last in this tab. */
export const useImportRun = (): ImportRun => useSyncExternalStore(subscribe, () => run);

/** Forgets what came of the last one. */
export const forgetImport = (): void => set({ phase: 'none' });

/** The same files brought over again after an answer was lost are the same command: the server answers again and does nothing twice. */
let command: { readonly mark: string; readonly id: string } | null = null;
function commandOf(mark: string): string {
  if (command?.mark !== mark) command = { mark, id: newId() };
  return command.id;
}

/** What the server answered, as far as it can be read. @throws Problem, or Unreachable */
function answerOf({ status, responseText }: XMLHttpRequest): View<'ImportReportView'> {
  const answer: unknown = responseText === '' ? null : JSON.parse(responseText);
  if (status !== 200) throw answer ?? new Unreachable(`the server answers ${status}`);
  return answer as View<'ImportReportView'>;
}

/**
 * Sends the files and waits for what comes of it. Never throws: the outcome is in `useImportRun`. Sent by XMLHttpRequest, which alone tells
 * how much of a large file is on its way.
 */
export function startImport(chosen: Chosen, dryRun: boolean, onDone: () => void): void {
  const mark = markOf(chosen);
  const form = new FormData();
  for (const [name, file] of chosen.files) form.append(name, file, name);
  const asked = new URLSearchParams(dryRun ? { dryRun: 'true' } : { commandId: commandOf(mark) });
  const request = new XMLHttpRequest();
  const of = [...chosen.files.values()].reduce((sum, { size }) => sum + size, 0);
  set({ phase: 'sending', dryRun, sent: 0, of });
  request.upload.addEventListener('progress', ({ loaded, total }) => {
    if (loaded < total) set({ phase: 'sending', dryRun, sent: loaded, of: total });
  });
  request.upload.addEventListener('load', () => set({ phase: 'checking', dryRun, sinceMs: nowMs() }));
  const refuse = (error: unknown): void => set({ phase: 'refused', mark, dryRun, problem: problemOf(error) });
  request.addEventListener('error', () => refuse(new Unreachable('the server does not answer')));
  request.addEventListener('load', () => {
    try {
      set({ phase: 'done', mark, report: answerOf(request) });
      if (!dryRun) command = null;
      onDone();
    } catch (error) {
      refuse(error);
    }
  });
  request.open('POST', `/api/imports?${asked.toString()}`);
  request.setRequestHeader('accept', 'application/json');
  request.send(form);
}
