import { layoutRibbon, type Ribbon, type RibbonInput, type RibbonRow, type RibbonSegment } from '../../../shared/ribbon-layout.js';
import { countPieces } from '../../../shared/spans.js';
import type { LotRibbon, RecallReport } from './recall-report.types.js';
import { BODY_WIDTH, type Block, type FigureBlock, type Shape } from './sheet.model.js';
import { writtenCount, writtenPieces, writtenSpans } from '../../../shared/written.js';

const SIZE = 7.2;
const AXIS_SIZE = 6.5;
const INSET = 4;

/** The affected lots piece by piece: what went into which pieces, and where those pieces went. */
export function recallRibbons({ ribbons }: RecallReport): Block[] {
  if (ribbons.length === 0) return [];
  return [
    {
      kind: 'heading',
      level: 2,
      text: 'Ribbons',
      note: 'Each lot from its first piece to its last: above the bar where the pieces went, below it what they were made of.',
    },
    ...ribbons.flatMap((ribbon): Block[] => [
      { kind: 'heading', level: 3, text: `${ribbon.lot}  ${ribbon.itemName}`, ...(ribbon.note === null ? {} : { note: ribbon.note }) },
      ribbonFigure(ribbon),
    ]),
  ];
}

function ribbonFigure(of: LotRibbon): FigureBlock {
  const ribbon = layoutRibbon(of.ribbon, {
    width: BODY_WIDTH + 19,
    labelRoom: 74,
    barHeight: 17,
    stripHeight: 14,
    gap: 3.5,
    axisHeight: 14,
    charWidth: 3.9,
  });
  const unnamed = new Set(
    ribbon.rows.flatMap((row) => row.segments.filter((segment) => segment.label !== '' && segment.shortLabel === '' && row.side !== 'bar')),
  );
  return {
    kind: 'figure',
    width: BODY_WIDTH,
    height: ribbon.height,
    shapes: [...ribbon.ticks.flatMap((tick) => tickShapes(tick, ribbon)), ...ribbon.rows.flatMap(rowShapes)],
    alt: inWords(of),
    // What has no room in the picture is written below it, so that the picture hides nothing.
    ...(unnamed.size === 0 ? {} : { caption: `Too narrow to be named above: ${[...unnamed].map(segmentInWords).join('; ')}.` }),
  };
}

function segmentInWords(segment: RibbonSegment): string {
  return `${segment.label}: ${writtenSpans([[segment.first, segment.last]])}`;
}

function tickShapes({ piece, x }: Ribbon['ticks'][number], ribbon: Ribbon): Shape[] {
  const align = piece === 1 ? 'left' : piece === ribbon.ticks.at(-1)?.piece ? 'right' : 'center';
  return [
    { kind: 'line', x1: x, x2: x, y1: 9, y2: ribbon.height - 2, tone: 'rule', width: 0.5 },
    { kind: 'label', x, y: 6.5, text: writtenCount(piece), size: AXIS_SIZE, tone: 'quiet', align },
  ];
}

function rowShapes(row: RibbonRow): Shape[] {
  const baseline = row.y + row.height / 2 + SIZE * 0.34;
  const name: Shape[] =
    row.lane > 0 ? [] : [{ kind: 'label', x: 68, y: baseline, text: row.label, size: SIZE, tone: 'quiet', align: 'right', maxWidth: 68 }];
  return [...name, ...row.segments.flatMap((segment) => segmentShapes(row, segment, baseline))];
}

function segmentShapes(row: RibbonRow, segment: RibbonSegment, baseline: number): Shape[] {
  // A hair of paper between neighbours is the cut of a changeover.
  const box = { kind: 'rect', x: segment.x + 0.4, y: row.y, w: Math.max(1, segment.width - 0.8), h: row.height } as const;
  const { shapes, tone } = segmentLook(row, segment, box);
  if (segment.shortLabel === '' || row.side === 'bar') return shapes;
  return [
    ...shapes,
    {
      kind: 'label',
      x: segment.x + INSET,
      y: baseline,
      text: segment.shortLabel,
      size: SIZE,
      tone,
      maxWidth: segment.width - INSET - 1,
      ...(segment.affected ? { strong: true } : {}),
    },
  ];
}

type Box = Extract<Shape, { kind: 'rect' }>;

function segmentLook(row: RibbonRow, segment: RibbonSegment, box: Box): { shapes: Shape[]; tone: 'ink' | 'accent' } {
  if (row.side === 'bar') return { shapes: [{ ...box, fill: segment.affected ? 'accent' : 'ghost' }], tone: 'ink' };
  if (segment.kind === 'held' || segment.kind === 'nonconforming') return { shapes: [{ ...box, stroke: 'accent' }], tone: 'accent' };
  const filled: Shape = { ...box, fill: segment.affected ? 'accentWash' : 'riverWash' };
  // Goods that can still be stopped have an edge of their own.
  if (segment.kind === 'on-hand')
    return { shapes: [filled, { ...box, stroke: segment.affected ? 'accent' : 'river', dashed: true }], tone: 'ink' };
  return { shapes: [filled, ...(segment.affected ? [{ ...box, h: 1.4, fill: 'accent' } as const] : [])], tone: 'ink' };
}

/** The ribbon for those who cannot see it, strip by strip. */
function inWords({ lot, ribbon }: { lot: string; ribbon: RibbonInput }): string {
  const affected = ribbon.affected ?? [];
  const strips = [...ribbon.above, ...ribbon.below].map(
    ({ label, parts }) => `${label}: ${parts.map((part) => `${part.label} ${writtenSpans(part.spans)}`).join('; ') || 'none'}.`,
  );
  return `Lot ${lot} of ${writtenPieces(ribbon.pieces)}, ${writtenCount(countPieces(affected))} affected: ${writtenSpans(affected) || 'none'}. ${strips.join(' ')}`;
}
