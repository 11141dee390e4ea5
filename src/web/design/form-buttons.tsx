import type { ReactNode } from 'react';

/** The button that sends a form, what else can be done instead, and the way out without doing anything. */
export function FormButtons({
  submit,
  busy,
  danger = false,
  onCancel,
  children,
}: {
  /** What the button says it will do. */
  submit: string;
  busy: boolean;
  danger?: boolean;
  onCancel?: () => void;
  children?: ReactNode;
}) {
  return (
    <div className="row">
      <button type="submit" className={danger ? 'danger' : 'primary'} disabled={busy}>
        {busy ? 'Sending …' : submit}
      </button>
      {children}
      {onCancel === undefined ? null : (
        <button type="button" onClick={onCancel}>
          Cancel
        </button>
      )}
    </div>
  );
}
