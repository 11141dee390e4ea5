import { amountOf, countOf } from './nonconformance.words.js';
import type { Account, NonconformanceReport } from './nonconformance.types.js';
import { type Block, BODY_WIDTH, type FigureBlock, type Row, type Shape } from './sheet.model.js';
import { writtenSpans } from '../../../shared/written.js';

/** Bars for more lots would be a picture of nothing; the table has every lot. */
const MOST_BARS = 16;
const ROW = 25;
const LABEL = 96;
const AMOUNT = 110;
const BAR = BODY_WIDTH - LABEL - AMOUNT;

/**
 * Affected against disposed of, lot by lot and in all, as bars that fill and as figures.
 * @see docs/rules/nonconformance.md NR-20, NR-51
 */
export function account({ accounts, addsUp, state }: NonconformanceReport): Block[] {
  if (state === 'withdrawn' && !addsUp) {
    return [
      { kind: 'heading', level: 2, text: 'Does it add up?' },
      { kind: 'paragraph', text: 'Nothing was to be disposed of: the report was withdrawn.' },
    ];
  }
  return [
    { kind: 'heading', level: 2, text: 'Does it add up?' },
    {
      kind: 'paragraph',
      text: addsUp
        ? 'Yes: every affected piece and quantity has exactly one disposition.'
        : 'No: what is affected and what was disposed of do not come to the same yet. The report cannot close.',
    },
    ...(accounts.length === 0 ? [] : [bars(accounts)]),
    {
      kind: 'table',
      summary: 'Affected, disposed of, carried out and open, by lot and in all',
      columns: [
        { head: 'Lot', share: 24 },
        { head: 'Affected', share: 15, align: 'right' },
        { head: 'Disposed of', share: 15, align: 'right' },
        { head: 'Carried out', share: 15, align: 'right' },
        { head: 'Without a disposition', share: 30, align: 'right' },
        { head: 'Too many', share: 13, align: 'right' },
      ],
      rows: [...accounts.map(accountRow), ...totals(accounts)],
      empty: 'Nothing is affected.',
    },
  ];
}

const accountRow = (one: Account): Row => ({
  kind: 'row',
  cells: [
    [{ text: one.lot, look: 'code' }],
    countOf(one.affectedMicro, one.unit),
    countOf(one.disposedMicro, one.unit),
    countOf(one.carriedOutMicro, one.unit),
    [
      { text: countOf(one.openMicro, one.unit), look: one.openMicro > 0 ? 'accent' : 'plain' },
      ...(one.openSpans === null || one.openSpans.length === 0 ? [] : [{ text: writtenSpans(one.openSpans), look: 'quiet' as const }]),
    ],
    [{ text: countOf(one.tooManyMicro, one.unit), look: one.tooManyMicro > 0 ? 'accent' : 'plain' }],
  ],
});

/** One line a unit: kilograms and pieces make no sum. */
function totals(accounts: readonly Account[]): Row[] {
  const units = [...new Set(accounts.map((one) => one.unit))];
  return units.map((unit): Row => {
    const of = accounts.filter((one) => one.unit === unit);
    const sum = (key: 'affectedMicro' | 'disposedMicro' | 'carriedOutMicro' | 'openMicro' | 'tooManyMicro') =>
      countOf(
        of.reduce((total, one) => total + one[key], 0),
        unit,
      );
    return {
      kind: 'total',
      cells: [
        units.length === 1 ? 'In all' : `In all, ${unit}`,
        ...(['affectedMicro', 'disposedMicro', 'carriedOutMicro', 'openMicro', 'tooManyMicro'] as const).map(sum),
      ],
    };
  });
}

function bars(accounts: readonly Account[]): FigureBlock {
  const shown = accounts.slice(0, MOST_BARS);
  const left = accounts.length - shown.length;
  return {
    kind: 'figure',
    width: BODY_WIDTH,
    height: shown.length * ROW + 16,
    shapes: [...shown.flatMap(bar), ...legend(shown.length * ROW + 6)],
    alt: shown.map(inWords).join('. '),
    ...(left === 0 ? {} : { caption: `${left} more ${left === 1 ? 'lot is' : 'lots are'} in the table below.` }),
  };
}

function bar(one: Account, i: number): Shape[] {
  const y = i * ROW;
  const most = Math.max(one.affectedMicro, one.disposedMicro, 1);
  const wide = (micro: number): number => (BAR * micro) / most;
  const affected = wide(one.affectedMicro);
  const accounted = wide(Math.min(one.disposedMicro, one.affectedMicro));
  const done = wide(Math.min(one.carriedOutMicro, one.affectedMicro));
  const percent = one.affectedMicro === 0 ? 0 : (Math.min(one.disposedMicro, one.affectedMicro) * 100) / one.affectedMicro;
  return [
    { kind: 'label', x: 0, y: y + 12, text: one.lot, size: 8.5, tone: 'ink', strong: true, maxWidth: LABEL - 8 },
    ...(accounted > 0 ? [{ kind: 'rect' as const, x: LABEL, y: y + 2, w: accounted, h: 14, fill: 'riverWash' as const }] : []),
    ...(done > 0 ? [{ kind: 'rect' as const, x: LABEL, y: y + 2, w: done, h: 14, fill: 'river' as const }] : []),
    ...(one.tooManyMicro > 0
      ? [
          {
            kind: 'rect' as const,
            x: LABEL + affected,
            y: y + 2,
            w: Math.max(3, BAR - affected),
            h: 14,
            fill: 'accentWash' as const,
            stroke: 'accent' as const,
          },
        ]
      : []),
    { kind: 'rect', x: LABEL, y: y + 2, w: affected, h: 14, stroke: 'ruleStrong', ...(one.openMicro > 0 ? { dashed: true } : {}) },
    {
      kind: 'label',
      x: BODY_WIDTH,
      y: y + 12,
      text: `${Math.floor(percent)} % of ${amountOf(one.affectedMicro, one.unit)}`,
      size: 7.5,
      tone: one.openMicro > 0 || one.tooManyMicro > 0 ? 'accent' : 'quiet',
      align: 'right',
      maxWidth: AMOUNT - 6,
    },
  ];
}

/** What the inks mean. */
function legend(y: number): Shape[] {
  const keys = [
    { text: 'carried out', fill: 'river' as const },
    { text: 'disposed of, not yet carried out', fill: 'riverWash' as const },
    { text: 'without a disposition', fill: 'paper' as const },
    { text: 'too many', fill: 'accentWash' as const },
  ];
  const offsets = [0, 66, 200, 302];
  return keys.flatMap(({ text, fill }, i): Shape[] => [
    {
      kind: 'rect',
      x: LABEL + offsets[i]!,
      y: y - 1,
      w: 9,
      h: 7,
      fill,
      stroke: fill === 'accentWash' ? 'accent' : 'ruleStrong',
      ...(fill === 'paper' ? { dashed: true } : {}),
    },
    { kind: 'label', x: LABEL + offsets[i]! + 13, y: y + 5, text, size: 7.5, tone: 'quiet' },
  ]);
}

const inWords = (one: Account): string =>
  `Lot ${one.lot}: of ${amountOf(one.affectedMicro, one.unit)} affected, ${amountOf(one.disposedMicro, one.unit)} disposed of, ` +
  `${amountOf(one.carriedOutMicro, one.unit)} carried out, ${amountOf(one.openMicro, one.unit)} without a disposition` +
  (one.tooManyMicro > 0 ? `, ${amountOf(one.tooManyMicro, one.unit)} too many` : '');
