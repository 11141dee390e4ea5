import { type ReactNode, useState } from 'react';
import type { AddressOf, PostPath } from '../wire/use-command.js';
import { CommandForm } from './command-form.js';
import { TextAreaField } from './fields.js';
import { Caution, Section } from './page.js';

/** The commands that take an entry back. */
type ReversalPath = Extract<PostPath, `${string}/reversal`>;
/** One of them, with the code that belongs into its address. */
type ReversalOf<Path> = Path extends ReversalPath ? { path: Path; address: AddressOf<Path> } : never;

/** What was booked in error is put right by another entry: it asks what was wrong, and says first what that will do. */
export function Reversal({
  path,
  address,
  code,
  title = 'Booked in error?',
  note,
  children,
}: ReversalOf<ReversalPath> & {
  /** The code of what is taken back. */
  code: string;
  title?: string;
  /** What a reversal is, before anybody asks for one. */
  note: string;
  /** What it will do, and to how much. */
  children: ReactNode;
}) {
  const [open, setOpen] = useState(false);
  const close = (): void => setOpen(false);
  return (
    <Section
      title={title}
      screenOnly
      actions={
        open ? null : (
          <button type="button" onClick={() => setOpen(true)}>
            Reverse it …
          </button>
        )
      }
    >
      {open ? (
        <CommandForm<ReversalPath>
          path={path}
          address={address}
          body={(values) => ({ reason: values.text('/reason') })}
          submit={`Reverse ${code}`}
          danger
          onDone={close}
          onCancel={close}
        >
          <Caution>{children}</Caution>
          <TextAreaField name="/reason" label="What was wrong" required />
        </CommandForm>
      ) : (
        <p className="quiet">{note}</p>
      )}
    </Section>
  );
}
