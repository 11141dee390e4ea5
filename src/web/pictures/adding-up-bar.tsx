import { useId } from 'react';
import { MICRO } from '../../../shared/quantity.js';
import { writtenCount, writtenPieces, writtenQuantity, writtenShare } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { type AddingUp, type Standing, type Stretch } from './adding-up.js';
import { useWidth } from './use-width.js';
import './adding-up-bar.css';

const BAR = { y: 34, height: 46 };
const HEIGHT = 116;
const CHAR = 7.4;

const STANDINGS: Readonly<Record<Standing, string>> = { proposed: 'waits for signatures', signed: 'signed', done: 'carried out' };

interface Drawn {
  readonly key: string;
  readonly className: string;
  readonly label: string;
  readonly says: string;
  readonly micro: number;
  readonly x: number;
  readonly width: number;
}

type Written = (micro: number) => string;

const written =
  (unit: string): Written =>
  (micro) =>
    unit === 'each' ? writtenPieces(micro / MICRO) : writtenQuantity(micro, unit);
const short =
  (unit: string): Written =>
  (micro) =>
    unit === 'each' ? writtenCount(micro / MICRO) : writtenQuantity(micro, unit);

/** The amount being typed, drawn into what is undecided before it is proposed. */
export interface Asked {
  readonly kind: string;
  readonly micro: number;
}

/**
 * Affected equals disposed of, by kind, and undecided: drawn to scale with the numbers on it, and told as a table. With `asked` it shows
 * what would become of the undecided part.
 */
export function AddingUpBar({
  lot,
  unit,
  sums,
  asked = null,
  kindWords,
}: {
  lot: string;
  unit: string;
  sums: AddingUp;
  asked?: Asked | null;
  kindWords: (kind: string) => string;
}) {
  const [box, width] = useWidth<HTMLDivElement>();
  const full = written(unit);
  const whole = sums.affectedMicro + sums.tooManyMicro;
  const says = `${full(sums.affectedMicro)} of ${lot} affected: ${full(sums.disposedMicro)} disposed of, ${full(sums.openMicro)} undecided`;
  return (
    <figure className="adding-up">
      <div ref={box}>{width === 0 || whole === 0 ? null : <Drawing {...{ width, whole, unit, sums, asked, kindWords, says }} />}</div>
      <Sums {...{ lot, unit, sums, kindWords }} />
    </figure>
  );
}

function drawnOf(
  width: number,
  whole: number,
  unit: string,
  sums: AddingUp,
  asked: Asked | null,
  kindWords: (kind: string) => string,
): Drawn[] {
  const amount = short(unit);
  const asks = asked === null ? 0 : Math.max(0, Math.min(asked.micro, sums.openMicro));
  const parts: Omit<Drawn, 'x' | 'width'>[] = [
    ...sums.stretches.map(({ kind, standing, micro }) => ({
      key: `${kind} ${standing}`,
      className: standing,
      label: kindWords(kind),
      says: `${kindWords(kind)}, ${STANDINGS[standing]}: ${written(unit)(micro)}`,
      micro,
    })),
    {
      key: 'asked',
      className: 'asked',
      label: asked === null ? '' : kindWords(asked.kind),
      says: `asked for: ${amount(asks)}`,
      micro: asks,
    },
    {
      key: 'open',
      className: 'open',
      label: 'Undecided',
      says: `Undecided: ${written(unit)(sums.openMicro - asks)}`,
      micro: sums.openMicro - asks,
    },
  ];
  let x = 0;
  return parts
    .filter(({ micro }) => micro > 0)
    .map((part) => {
      const of = { ...part, x, width: Math.max(2, (part.micro / whole) * width) };
      x += (part.micro / whole) * width;
      return of;
    });
}

interface DrawingProps {
  readonly width: number;
  readonly whole: number;
  readonly unit: string;
  readonly sums: AddingUp;
  readonly asked: Asked | null;
  readonly kindWords: (kind: string) => string;
  readonly says: string;
}

function Drawing({ width, whole, unit, sums, asked, kindWords, says }: DrawingProps) {
  const hatch = useId();
  const inner = width - 2;
  const drawn = drawnOf(inner, whole, unit, sums, asked, kindWords);
  const disposedTo = (sums.disposedMicro / whole) * inner;
  const amount = short(unit);
  return (
    <svg className="picture" width={width} height={HEIGHT} viewBox={`-1 0 ${width} ${HEIGHT}`} role="img" aria-label={says}>
      <defs>
        <pattern id={hatch} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="7" height="7" className="hatch-ground" />
          <line x1="0" x2="0" y1="0" y2="7" className="hatch-line" />
        </pattern>
      </defs>
      <Brace from={0} to={(sums.affectedMicro / whole) * inner} y={26} up label={`Affected ${written(unit)(sums.affectedMicro)}`} />
      {drawn.map((one) => (
        <g key={one.key} className={`stretch ${one.className}`}>
          <title>{one.says}</title>
          <rect
            x={one.x}
            y={BAR.y}
            width={one.width}
            height={BAR.height}
            fill={one.className === 'proposed' ? `url(#${hatch})` : undefined}
          />
          <InStretch of={one} amount={amount(one.micro)} />
        </g>
      ))}
      {sums.disposedMicro > 0 ? <Brace from={0} to={disposedTo} y={88} label={`Disposed ${amount(sums.disposedMicro)}`} /> : null}
      {sums.openMicro > 0 ? (
        <Brace from={disposedTo} to={inner} y={88} label={`Undecided ${amount(sums.openMicro)}`} className="urgent" />
      ) : null}
    </svg>
  );
}

/** The words and the number on a stretch, as far as they fit; the title and the table have them in full. */
function InStretch({ of, amount }: { of: Drawn; amount: string }) {
  const room = of.width - 14;
  const words = of.label.length * CHAR <= room ? of.label : '';
  const number = amount.length * CHAR <= room ? amount : '';
  return (
    <>
      {words === '' ? null : (
        <text x={of.x + 8} y={BAR.y + 19}>
          {words}
        </text>
      )}
      {number === '' ? null : (
        <text x={of.x + 8} y={BAR.y + (words === '' ? 29 : 37)} className="figure">
          {number}
        </text>
      )}
    </>
  );
}

/** A bracket over or under a stretch with what it comes to; a narrow one has its words set beside it. */
function Brace({
  from,
  to,
  y,
  up = false,
  label,
  className = '',
}: {
  from: number;
  to: number;
  y: number;
  up?: boolean;
  label: string;
  className?: string;
}) {
  const foot = up ? 6 : -6;
  const wide = to - from > label.length * CHAR;
  const atRight = from > 0;
  return (
    <g className={`brace ${className}`}>
      <path d={`M${from} ${y + foot}V${y}H${to}V${y + foot}`} />
      <text
        x={wide ? (from + to) / 2 : atRight ? to : from}
        y={up ? y - 8 : y + 18}
        textAnchor={wide ? 'middle' : atRight ? 'end' : 'start'}
      >
        {label}
      </text>
    </g>
  );
}

/** The same as figures. */
function Sums({ lot, unit, sums, kindWords }: { lot: string; unit: string; sums: AddingUp; kindWords: (kind: string) => string }) {
  const full = written(unit);
  const rows: readonly (Stretch | 'open' | 'many')[] = [
    ...sums.stretches,
    ...(sums.openMicro > 0 ? ['open' as const] : []),
    ...(sums.tooManyMicro > 0 ? ['many' as const] : []),
  ];
  const micro = (row: Stretch | 'open' | 'many'): number =>
    row === 'open' ? sums.openMicro : row === 'many' ? sums.tooManyMicro : row.micro;
  return (
    <LedgerTable
      caption={`${lot}: ${full(sums.affectedMicro)} affected, ${full(sums.disposedMicro)} disposed of, ${full(sums.openMicro)} undecided`}
      rows={rows}
      rowKey={(row) => (typeof row === 'string' ? row : `${row.kind} ${row.standing}`)}
      rowClass={(row) => (typeof row === 'string' ? 'affected' : undefined)}
      columns={[
        { head: 'Becomes', cell: (row) => (row === 'open' ? 'Undecided' : row === 'many' ? 'Disposed of twice' : kindWords(row.kind)) },
        { head: 'Stands', cell: (row) => (typeof row === 'string' ? 'needs a disposition' : STANDINGS[row.standing]) },
        { head: 'How much', num: true, cell: (row) => full(micro(row)) },
        { head: 'Share', num: true, cell: (row) => writtenShare(micro(row) / sums.affectedMicro) },
      ]}
    />
  );
}
