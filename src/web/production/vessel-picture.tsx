import { parseQuantity } from '../../../shared/quantity.js';

/** A kettle and how full it is. What it says stands in words beside it too. */
export function VesselPicture({
  content,
  capacity,
  says,
  batch,
}: {
  content: number;
  capacity: string | null;
  says: string;
  batch: boolean;
}) {
  const room = capacity === null ? 0 : parseQuantity(capacity);
  const share = room > 0 ? Math.min(1, content / room) : content > 0 ? 0.5 : 0;
  const inside = { top: 12, bottom: 74 };
  const level = content > 0 ? Math.min(inside.bottom - 8, inside.bottom - share * (inside.bottom - inside.top)) : inside.bottom;
  const body = 'M8 12 L8 60 Q8 74 22 74 L50 74 Q64 74 64 60 L64 12';
  return (
    <svg className="picture vessel-picture" role="img" aria-label={says} width="72" height="88" viewBox="0 0 72 88">
      <clipPath id={`in-${says.replaceAll(/\W/gu, '')}`}>
        <path d={`${body} Z`} />
      </clipPath>
      <rect
        className={batch ? 'fill batch' : 'fill'}
        x="8"
        y={level}
        width="56"
        height={Math.max(0, inside.bottom - level)}
        clipPath={`url(#in-${says.replaceAll(/\W/gu, '')})`}
      />
      <path className="wall" d={body} />
      <path className="wall" d="M2 12 L70 12 M18 74 L14 86 M54 74 L58 86" />
      <path className="wall thin" d="M36 2 L36 56 M28 56 L44 56" />
    </svg>
  );
}
