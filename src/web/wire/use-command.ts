import { useQueryClient } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { newId } from '../app/new-id.js';
import { useMe } from '../app/session.js';
import { keepForLater } from '../outbox/outbox.js';
import { type Problem, problemOf, Unreachable } from './problem.js';
import type { paths } from './schema.js';
import { sendCommand } from './send-command.js';

export type PostPath = { [Path in keyof paths]: paths[Path] extends { post: object } ? Path : never }[keyof paths];
type Post<Path extends PostPath> = paths[Path]['post'];
type AsJson<Content> = Content extends { content: { 'application/json': infer Body } } ? Body : never;

/** What a command's body holds, without the command's id, which is made here. */
export type BodyOf<Path extends PostPath> =
  Post<Path> extends { requestBody?: infer Request } ? Omit<AsJson<NonNullable<Request>>, 'commandId'> : never;
/** What the server answers when it did what was asked. */
export type AnswerOf<Path extends PostPath> =
  Post<Path> extends { responses: { 201: infer Made } }
    ? AsJson<Made>
    : Post<Path> extends { responses: { 200: infer Done } }
      ? AsJson<Done>
      : never;
/** The codes in the address, by name. */
export type AddressOf<Path extends PostPath> = Post<Path> extends { parameters: { path: infer Address } } ? Address : undefined;

export type Outcome<Answer> = { readonly done: Answer } | { readonly kept: true } | { readonly problem: Problem };

export interface Command<Path extends PostPath> {
  /** Sends it. Never throws: the outcome is the answer, a problem, or that it is kept for when the server is back. */
  run(body: BodyOf<Path>): Promise<Outcome<AnswerOf<Path>>>;
  readonly busy: boolean;
  readonly problem: Problem | null;
  clear(): void;
}

interface Options<Path extends PostPath> {
  readonly address?: AddressOf<Path>;
  /**
   * What the command is called in the list of things to be sent, as `Delivery DN 77`. With it, a command that meets no connection is
   * kept and sent once when there is one, to the letter: it may have been carried out already, and the server compares. A time at which
   * something happened belongs into the body (`plantInstant`). Never with a password in the body.
   */
  readonly keepAs?: (body: BodyOf<Path>) => string;
}

/**
 * A command to the server. It carries an id of its own, the same for every try of the same body, so that one that was carried out
 * although its answer was lost is answered again and not done again. What was read before is read anew once it is done.
 */
export function useCommand<Path extends PostPath>(path: Path, { address, keepAs }: Options<Path> = {}): Command<Path> {
  const queries = useQueryClient();
  const { person } = useMe();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const tried = useRef<{ body: string; commandId: string } | null>(null);

  async function run(body: BodyOf<Path>): Promise<Outcome<AnswerOf<Path>>> {
    const text = JSON.stringify([address, body]);
    if (tried.current?.body !== text) tried.current = { body: text, commandId: newId() };
    const { commandId } = tried.current;
    const command = { path: path as string, address: (address ?? {}) as Record<string, string>, body: { ...body, commandId } };
    setBusy(true);
    setProblem(null);
    try {
      const done = (await sendCommand(command)) as AnswerOf<Path>;
      tried.current = null;
      await queries.invalidateQueries();
      return { done };
    } catch (error) {
      if (error instanceof Unreachable && keepAs) {
        await keepForLater({ id: commandId, person, title: keepAs(body), ...command });
        tried.current = null;
        return { kept: true };
      }
      const what = problemOf(error);
      setProblem(what);
      // What the person has seen is behind the record: it is read anew, so that the page can say so.
      if (what.reasons.some(({ code }) => code === 'revised-meanwhile')) void queries.invalidateQueries();
      return { problem: what };
    } finally {
      setBusy(false);
    }
  }
  return { run, busy, problem, clear: () => setProblem(null) };
}
