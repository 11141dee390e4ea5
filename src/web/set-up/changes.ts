/** One thing that a record says, in words: what its page shows, and what two revisions of it are compared by. */
export interface Told {
  readonly label: string;
  /** Empty: the record does not say. */
  readonly text: string;
  /** One of a list that the page shows as a table of its own. */
  readonly listed?: boolean;
}

/** What one revision says other than the one before. */
export interface Change {
  readonly label: string;
  /** Empty: it was not said. */
  readonly before: string;
  /** Empty: it is not said any more. */
  readonly after: string;
}

/** What changed from one revision to the next, in the order in which the record tells it; what was taken out comes last. */
export function changesBetween(before: readonly Told[], after: readonly Told[]): Change[] {
  const was = new Map(before.map(({ label, text }) => [label, text]));
  const is = new Set(after.map(({ label }) => label));
  const changed = after
    .map(({ label, text }) => ({ label, before: was.get(label) ?? '', after: text }))
    .filter((change) => change.before !== change.after);
  const gone = before
    .filter(({ label, text }) => !is.has(label) && text !== '')
    .map(({ label, text }) => ({ label, before: text, after: '' }));
  return [...changed, ...gone];
}

/** A change as a sentence. */
export function changeInWords({ label, before, after }: Change): string {
  if (before === '') return `${label}: ${after}, new`;
  if (after === '') return `${label}: ${before}, taken out`;
  return `${label}: ${after}, was ${before}`;
}
