import type { Severity } from './words.js';
import './nonconformance.css';

const SHAPES: Readonly<Record<Severity, string>> = {
  critical: 'M8 1 15 15H1Z',
  major: 'M8 1 15 8 8 15 1 8Z',
  minor: 'M8 2a6 6 0 1 0 .01 0Z',
};

/** How grave a nonconformity is: a shape and its word, told apart in grey too. */
export function SeverityMark({ severity }: { severity: Severity }) {
  return (
    <span className={`nc-severity ${severity}`}>
      <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
        <path d={SHAPES[severity]} />
      </svg>
      {severity}
    </span>
  );
}
