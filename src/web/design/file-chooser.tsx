import { useId } from 'react';
import './file-chooser.css';

/** A button that opens the device's files, or its camera. What is chosen is let go of at once, so that the same file can be chosen again. */
export function FileChooser({
  text,
  accept,
  camera = false,
  disabled,
  onChoose,
}: {
  text: string;
  /** Kinds of files, as `accept` of an input has them. */
  accept: string;
  /** One picture from the camera, where the device has one; otherwise as many files as one likes. */
  camera?: boolean;
  disabled: boolean;
  onChoose: (files: readonly File[]) => void;
}) {
  const id = useId();
  return (
    <span className="file-chooser">
      <input
        id={id}
        type="file"
        className="hidden-but-read"
        accept={accept}
        {...(camera ? { capture: 'environment' as const } : { multiple: true })}
        disabled={disabled}
        onChange={(event) => {
          onChoose([...(event.target.files ?? [])]);
          event.target.value = '';
        }}
      />
      <label htmlFor={id} className="button">
        {text}
      </label>
    </span>
  );
}
