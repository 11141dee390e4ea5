import { useId } from 'react';
import './ac-re.css';

const MOST_CELLS = 26;
const HEIGHT = 20;
const WIDTH = 168;

/**
 * What was found of a class, filling toward the number at which the lot is not accepted: one cell for each up to Re, a heavy line after
 * Ac. What is not written down yet is hatched. Above 26 cells it is a bar to scale.
 */
export function AcReGauge({ name, found, waiting, ac, re }: { name: string; found: number; waiting: number; ac: number; re: number }) {
  const hatch = useId();
  const step = WIDTH / re;
  const x = (count: number): number => Math.min(count, re) * step;
  const written = waiting === 0 ? `${found}` : `${found} and ${waiting} not yet written down`;
  const cells = re <= MOST_CELLS ? Array.from({ length: re - 1 }, (_, i) => i + 1).filter((at) => at !== ac) : [];
  return (
    <svg
      className={`picture ac-re${found + waiting >= re ? ' reached' : ''}`}
      width={WIDTH + 2}
      height={HEIGHT + 4}
      viewBox={`-1 -2 ${WIDTH + 2} ${HEIGHT + 4}`}
      role="img"
      aria-label={`${name}: ${written} found; accepted up to ${ac}, not accepted from ${re}`}
    >
      <defs>
        <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" x2="0" y1="0" y2="6" className="hatch" />
        </pattern>
      </defs>
      <rect className="room" width={WIDTH} height={HEIGHT} />
      <rect className="beyond" x={x(ac)} width={WIDTH - x(ac)} height={HEIGHT} />
      <rect className="found" width={x(found)} height={HEIGHT} />
      <rect x={x(found)} width={x(found + waiting) - x(found)} height={HEIGHT} fill={`url(#${hatch})`} />
      {cells.map((at) => (
        <line key={at} className="cell" x1={x(at)} x2={x(at)} y2={HEIGHT} />
      ))}
      <rect className="edge" width={WIDTH} height={HEIGHT} />
      <line className="ac" x1={x(ac)} x2={x(ac)} y1={-2} y2={HEIGHT + 2} />
    </svg>
  );
}
