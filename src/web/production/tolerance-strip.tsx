import { writtenQuantity } from '../../../shared/written.js';
import { reached, reachedInWords, type Want } from './wants.js';

const WIDE = 1000;
const TALL = 30;
/** Room on the right of the most allowed, so that too much can be seen. */
const ROOM = 1.12;

/** How much has gone in against the least, the target and the most: a bar that has to end within the marked stretch. */
export function ToleranceStrip({ want }: { want: Want }) {
  const { targetMicro, lowMicro, highMicro, chargedMicro, unit, name } = want;
  if (targetMicro === null || targetMicro === 0) return null;
  const most = highMicro ?? targetMicro;
  const scale = WIDE / (Math.max(most, chargedMicro) * ROOM);
  const low = (lowMicro ?? targetMicro) * scale;
  const figures =
    highMicro === null
      ? `needed ${written(targetMicro, unit)}`
      : `least ${written(lowMicro ?? 0, unit)}, target ${written(targetMicro, unit)}, most ${written(most, unit)}`;
  return (
    <div className={`tolerance ${reached(want)}`}>
      <svg
        role="img"
        aria-label={`${name}: ${written(chargedMicro, unit)} charged; ${figures}; ${reachedInWords(want)}`}
        viewBox={`0 0 ${WIDE} ${TALL}`}
        preserveAspectRatio="none"
      >
        <rect className="room" x="0" y="6" width={WIDE} height={TALL - 12} />
        <rect className="charged" x="0" y="6" width={chargedMicro * scale} height={TALL - 12} />
        {highMicro === null ? null : <rect className="allowed" x={low} y="1" width={Math.max(4, most * scale - low)} height={TALL - 2} />}
        <line className="target" x1={targetMicro * scale} x2={targetMicro * scale} y1="0" y2={TALL} />
      </svg>
      <p className="quiet figures">{figures}</p>
    </div>
  );
}

const written = (micro: number, unit: string): string => writtenQuantity(micro, unit === 'each' ? 'pcs' : unit);
