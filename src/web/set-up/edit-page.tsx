import type { UseQueryResult } from '@tanstack/react-query';
import { Fragment, type ReactNode, useEffect, useState } from 'react';
import { Link } from 'wouter';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Caution, Notice, Page } from '../design/page.js';
import { addressOf, type Recorded, REVISERS, type Words } from './book.js';
import { Crumb } from './crumb.js';

/** The page of a form: for a new record, or for the next revision of one. */
export function EditPage<Row extends Recorded>({
  words,
  code,
  query,
  form,
}: {
  words: Words;
  /** Null: a new one. */
  code: string | null;
  query: Pick<UseQueryResult<Row, unknown>, 'data' | 'error' | 'refetch'>;
  form: (record: Row | null) => ReactNode;
}) {
  const may = useMay(...REVISERS);
  const crumb = <Crumb place={words.place} title={words.many} />;
  const title = code === null ? `New ${words.one}` : `Revise ${code}`;
  if (!may) {
    return (
      <Page title={title} crumb={crumb}>
        <Notice>
          <p>The set-up is changed by quality and administrators. You can read every record and its revisions.</p>
        </Notice>
      </Page>
    );
  }
  if (code === null) {
    return (
      <Page title={title} crumb={crumb} sub={words.purpose}>
        {form(null)}
      </Page>
    );
  }
  return (
    <Answered query={query} what={`${words.one} ${code}`}>
      {(record) => <NextRevision words={words} newest={record} form={form} title={title} crumb={crumb} />}
    </Answered>
  );
}

/**
 * The form for the next revision stays with the revision it was opened on: what is read anew while somebody types must not pass for what
 * they have seen, or their words would go over another's unseen.
 */
function NextRevision<Row extends Recorded>({
  words,
  newest,
  form,
  title,
  crumb,
}: {
  words: Words;
  newest: Row;
  form: (record: Row) => ReactNode;
  title: string;
  crumb: ReactNode;
}) {
  const [record, setRecord] = useState(newest);
  const behind = useLasting(newest.revision !== record.revision);
  return (
    <Page title={title} crumb={crumb} sub={record.name} facts={[{ label: 'Revised from', value: record.revision }]}>
      {!behind ? (
        <Notice>
          <p>
            This makes revision {record.revision + 1}. Revision {record.revision} is not edited and stays readable; {words.kept}.
          </p>
        </Notice>
      ) : (
        <Caution>
          <p>
            Somebody made revision {newest.revision} while this was open on revision {record.revision}: what stands here cannot be sent.{' '}
            <Link href={addressOf(words.place, record.code)}>See what they changed</Link>
          </p>
          <button type="button" onClick={() => setRecord(newest)}>
            Begin again from revision {newest.revision}
          </button>
        </Caution>
      )}
      <Fragment key={record.revision}>{form(record)}</Fragment>
    </Page>
  );
}

/** One's own revision is read for a moment too, before one is led to it. */
const OWN_FOR_MS = 800;

/** Whether something has been so for longer than one's own sending makes it so. */
function useLasting(so: boolean): boolean {
  const [lasts, setLasts] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLasts(so), so ? OWN_FOR_MS : 0);
    return () => clearTimeout(timer);
  }, [so]);
  return so && lasts;
}

/** Code and name; for a new revision its reason, and the code stays. */
export function HeadFields({ record, codeHint, nameHint }: { record: Recorded | null; codeHint?: ReactNode; nameHint?: ReactNode }) {
  return (
    <>
      {record === null ? null : <TextAreaField name="/reason" label="Why it is revised" required rows={2} />}
      <div className="grid">
        {record === null ? (
          <TextField
            name="/code"
            label="Code"
            code
            required
            maxLength={64}
            hint={codeHint ?? 'stays for good; case and leading zeros count'}
          />
        ) : null}
        <TextField name="/name" label="Name" required maxLength={200} defaultValue={record?.name} hint={nameHint} />
      </div>
    </>
  );
}

/** What the head fields say. */
export function headOf(values: FormValues, record: Recorded | null) {
  return record === null
    ? { code: values.text('/code'), name: values.text('/name') }
    : { code: record.code, name: values.text('/name'), revision: record.revision, reason: values.text('/reason') };
}

/** What the button of a form says it will do. */
export const submitWords = (words: Words, record: Recorded | null): string =>
  record === null ? `Add the ${words.one}` : `Make revision ${record.revision + 1}`;
