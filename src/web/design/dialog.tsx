import { type ReactNode, useEffect, useId, useRef } from 'react';
import { InDialog } from './in-dialog.js';

/** A dialog over the page: focus stays in it, Escape closes it, and focus returns to where it was. */
export function Dialog({ title, onClose, children }: { title: string; onClose: () => void; children: ReactNode }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const element = dialog.current;
    element?.showModal();
    return () => element?.close();
  }, []);
  return (
    <dialog
      ref={dialog}
      aria-labelledby={heading}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClose={() => {
        // A browser closes a dialog at the second Escape without asking. While it stands in the page, it is not done with.
        if (dialog.current?.isConnected) dialog.current.showModal();
      }}
    >
      <h2 id={heading}>{title}</h2>
      <InDialog.Provider value={true}>{children}</InDialog.Provider>
    </dialog>
  );
}
