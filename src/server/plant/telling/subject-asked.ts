import { Refusal } from '../../../../shared/refusal.js';
import { type Subject, SUBJECT_KINDS, type SubjectKind } from './subjects.js';

/** The records a question names, each by its kind. */
export function subjectsAsked(query: Readonly<Partial<Record<SubjectKind, string>>>): Subject[] {
  return SUBJECT_KINDS.flatMap((kind) => (query[kind] === undefined ? [] : [{ kind, code: query[kind] }]));
}

/** The one record that is asked about. */
export function oneSubject([subject, ...more]: readonly Subject[]): Subject {
  if (subject !== undefined && more.length === 0) return subject;
  throw new Refusal('malformed', [
    { code: 'one-record', detail: `name one record by its kind, as ?lot=CODE: one of ${SUBJECT_KINDS.join(', ')}` },
  ]);
}
