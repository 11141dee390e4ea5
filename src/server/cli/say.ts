import { Refusal } from '../../../shared/refusal.js';

export const REFUSED = 1;
export const WRONG_USAGE = 2;

/** A message for the person, on stderr, so that stdout holds only the answer. */
export const tell = (message: string): boolean => process.stderr.write(`${message}\n`);

export const answer = (text: string): boolean => process.stdout.write(text.endsWith('\n') ? text : `${text}\n`);

/** Says every reason of a refusal; anything unforeseen with its stack. Sets the exit status. */
export async function failed(error: unknown, json: boolean): Promise<void> {
  process.exitCode = REFUSED;
  if (json) {
    const { toProblem } = await import('../platform/http/problems.js');
    answer(JSON.stringify(toProblem(error), null, 2));
    if (error instanceof Refusal) return;
  }
  if (error instanceof Refusal) for (const reason of error.reasons) tell(`refused: ${reason.detail} (${reason.code})`);
  else tell(error instanceof Error ? (error.stack ?? error.message) : String(error));
}
