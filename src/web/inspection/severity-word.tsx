import './severity-word.css';

/** Told apart by shape and word: one bar, two, three; a bar struck out for discontinued. */
const BARS = { reduced: 1, normal: 2, tightened: 3, discontinued: 0 } as const;

/** How strict it is: reduced, normal, tightened, or not taken to inspection any more. */
export function SeverityWord({ severity }: { severity: keyof typeof BARS }) {
  return (
    <span className={`severity ${severity}`}>
      <svg width="22" height="16" viewBox="0 0 22 16" aria-hidden="true">
        {[0, 1, 2].map((bar) => (
          <rect key={bar} x={1 + 7 * bar} y={11 - 4 * bar} width="5" height={4 + 4 * bar} className={bar < BARS[severity] ? 'on' : 'off'} />
        ))}
        {severity === 'discontinued' ? <path d="M1 15L21 1" /> : null}
      </svg>{' '}
      {severity}
    </span>
  );
}

/** Whether the last lots were accepted, oldest first: a filled dot, or a cross. */
export function Recent({ recent }: { recent: readonly boolean[] }) {
  if (recent.length === 0) return <span className="quiet">none yet</span>;
  const bad = recent.filter((accepted) => !accepted).length;
  const says = `last ${recent.length}, oldest first: ${recent.map((accepted) => (accepted ? 'accepted' : 'not accepted')).join(', ')}`;
  return (
    <span className="recent">
      <svg width={18 * recent.length} height="16" role="img" aria-label={says}>
        {recent.map((accepted, at) =>
          accepted ? (
            // oxlint-disable-next-line react/no-array-index-key
            <circle key={at} cx={9 + 18 * at} cy="8" r="5" />
          ) : (
            // oxlint-disable-next-line react/no-array-index-key
            <path key={at} d={`M${4 + 18 * at} 3l10 10m0 -10l-10 10`} />
          ),
        )}
      </svg>{' '}
      {bad === 0 ? '' : `${bad} not accepted`}
    </span>
  );
}
