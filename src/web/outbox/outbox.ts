import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { WrittenCommand } from '../wire/send-command.js';
import { sendCommand } from '../wire/send-command.js';
import { type Problem, problemOf, Unreachable } from '../wire/problem.js';
import { plantInstant } from '../app/clock.js';

/** A command that found no connection. Its id goes along with every try, so however often it is sent, it is carried out once. */
export interface Kept extends WrittenCommand {
  readonly id: string;
  /** Who did it: it is sent in no other name. */
  readonly person: string;
  readonly title: string;
  readonly at: string;
  /** What the server said when it was sent at last and refused: a person has to look. */
  readonly problem: Problem | null;
}

interface Shelf extends DBSchema {
  kept: { key: string; value: Kept; indexes: { at: string } };
}

let opened: Promise<IDBPDatabase<Shelf>> | undefined;
const shelf = (): Promise<IDBPDatabase<Shelf>> =>
  (opened ??= openDB<Shelf>('kinledger', 1, {
    upgrade: (db) => void db.createObjectStore('kept', { keyPath: 'id' }).createIndex('at', 'at'),
  }));

const listeners = new Set<() => void>();
const changed = (): void => listeners.forEach((tell) => tell());

/** Calls back whenever something is kept, sent or given up. */
export function onOutbox(listener: () => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}

/** Keeps a command on this device, through a reload or a flat battery, until it has been sent. */
export async function keepForLater(command: Omit<Kept, 'at' | 'problem'>): Promise<void> {
  await (await shelf()).put('kept', { ...command, at: plantInstant(), problem: null });
  changed();
}

/** What waits, in the order in which it was done. */
export async function keptCommands(): Promise<Kept[]> {
  return (await shelf()).getAllFromIndex('kept', 'at');
}

/** One kept command, or undefined when it is no longer there. */
export async function keptCommand(id: string): Promise<Kept | undefined> {
  return (await shelf()).get('kept', id);
}

/** Gives a kept command up; only a person does that. */
export async function giveUp(id: string): Promise<void> {
  await (await shelf()).delete('kept', id);
  changed();
}

/** True when nothing more can be sent now. */
async function sendOne(command: Kept): Promise<boolean> {
  try {
    await sendCommand(command);
    await (await shelf()).delete('kept', command.id);
  } catch (error) {
    const problem = problemOf(error);
    if (error instanceof Unreachable || problem.status === 401 || problem.status === 429 || problem.status >= 500) return true;
    await (await shelf()).put('kept', { ...command, problem });
  }
  changed();
  return false;
}

async function sendAll(person: string): Promise<boolean> {
  let answered = false;
  for (const command of await keptCommands()) {
    if (command.person !== person || command.problem !== null) continue;
    if (await sendOne(command)) return answered;
    answered = true;
  }
  return answered;
}

let sending: Promise<boolean> | undefined;

/**
 * Sends what waits of a person, one after the other, one tab at a time. Even two tabs on a browser without locks would do nothing twice.
 * @returns true when the server answered at least one of them: what was read before may be out of date
 */
export function sendKept(person: string): Promise<boolean> {
  const locks = 'locks' in navigator ? navigator.locks : undefined;
  const run = (): Promise<boolean> => (locks ? locks.request('kinledger-outbox', () => sendAll(person)) : sendAll(person));
  sending ??= run().finally(() => (sending = undefined));
  return sending;
}
