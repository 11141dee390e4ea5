import { describe, expect, test } from 'vitest';
import { exampleReport } from '../../../test/bench/example-report.js';
import { nonconformanceSheet } from './nonconformance.model.js';
import type { NonconformanceReport } from './nonconformance.types.js';
import type { Block, Cell, FigureBlock } from './sheet.model.js';

const cellText = (cell: Cell): string => (typeof cell === 'string' ? cell : cell.map((part) => part.text).join(' | '));
const rowsOf = (report: NonconformanceReport, summary: string): string[] =>
  nonconformanceSheet(report).blocks.flatMap((block) =>
    block.kind === 'table' && block.summary.startsWith(summary)
      ? block.rows.map((row) => (row.kind === 'group' ? '' : row.cells.map(cellText).join(' · ').replace(/\s/gu, ' ')))
      : [],
  );
const factsOf = (report: NonconformanceReport): Map<string, string> =>
  new Map(
    nonconformanceSheet(report).blocks.flatMap((block) =>
      block.kind === 'facts' ? block.facts.map(({ label, value }) => [label, cellText(value).replace(/\s/gu, ' ')] as const) : [],
    ),
  );
const cautions = (report: NonconformanceReport): string =>
  nonconformanceSheet(report)
    .blocks.flatMap((block) => (block.kind === 'caution' ? [block.title, ...block.lines] : []))
    .join(' ');
const figure = (report: NonconformanceReport): FigureBlock =>
  nonconformanceSheet(report).blocks.find((block: Block): block is FigureBlock => block.kind === 'figure')!;

describe('a nonconformance report as a sheet', () => {
  test('NC-2: says what is wrong, what was done, the concession, and who had the authority to decide', () => {
    const report = exampleReport();
    const facts = factsOf(report);
    expect(facts.get('Found')).toContain('Lids lift at the seam');
    expect(facts.get('Carried out')).toContain('handed to the licensed carrier');
    expect(facts.get('Authorised by')).toBe('M. Calder, Spoke & Sprocket (customer), letter 26/114');
    expect(facts.get('Until')).toBe('30 Jun 2026');
    expect(rowsOf(report, 'Who signed disposition 1')).toEqual([
      'quality · Quirin Ashby | quality-1 · 6 Mar 2026, 10:14 UTC · approves: rework as described · 421',
    ]);
  });

  test('AU-10: every signature has a printed name, date and time, and what it means; a broken one shows', () => {
    const [broken, standing] = rowsOf(exampleReport(), 'Who signed disposition 2');
    expect(broken).toContain('quality | Broken');
    expect(broken).toContain('broken: what it signed has changed');
    expect(broken).toContain('Quirin Ashby | quality-1 · 6 Mar 2026, 10:14 UTC · approves: use as is');
    expect(standing).toBe('operator · operator-2 · 6 Mar 2026, 10:14 UTC · takes responsibility for marking every can · 424');
    expect(rowsOf(exampleReport(), 'Who signed the report')).toHaveLength(2);
    expect(factsOf(exampleReport()).get('Waits for')).toBe('a signature of quality');
  });

  test('a critical one says on every page that people can be hurt; every one says whose the duties under the law are', () => {
    const critical = exampleReport();
    expect(nonconformanceSheet(critical).pageStamp?.word).toBe('Critical');
    expect(cautions(critical)).toContain('people can be hurt');
    for (const severity of ['critical', 'major'] as const) expect(cautions({ ...critical, severity })).toContain('the law of each place');
    expect(nonconformanceSheet({ ...critical, severity: 'minor' }).pageStamp).toBeNull();
  });

  test('NC-7: affected, disposed of, carried out and open stand lot by lot and in all, a line for each unit', () => {
    expect(rowsOf(exampleReport(), 'Affected, disposed of')).toEqual([
      'F26-0031 · 2 880 · 2 100 · 1 200 · 780 | 4 021–4 800 · 0',
      'F26-0032 · 240 · 240 · 240 · 0 · 0',
      'R26-0311 · 120.5 kg · 130 kg · 0 kg · 0 kg · 9.5 kg',
      'In all, each · 3 120 · 2 340 · 1 440 · 780 · 0',
      'In all, kg · 120.5 kg · 130 kg · 0 kg · 0 kg · 9.5 kg',
    ]);
  });

  test('costs stand in the currency of the plant, and in all', () => {
    expect(rowsOf(exampleReport(), 'Costs by what')).toEqual([
      'disposition 1 · labour · two people, one shift · 480.00',
      'the report · other ·  · 125.50',
      'In all ·  ·  · 605.50',
    ]);
    expect(rowsOf({ ...exampleReport(), currency: 'JPY' }, 'Costs by what').at(-1)).toContain('60 550');
  });

  test('the bar of a lot is filled by so much as is disposed of and carried out', () => {
    const report = exampleReport();
    const widths = (disposedMicro: number, carriedOutMicro: number): number[] => {
      const { shapes } = figure({ ...report, accounts: [{ ...report.accounts[0]!, disposedMicro, carriedOutMicro }] });
      const rects = shapes.flatMap((shape) => (shape.kind === 'rect' && shape.h === 14 ? [shape] : []));
      const whole = rects.find((shape) => shape.fill === undefined)!.w;
      return (['riverWash', 'river'] as const).map((fill) => (rects.find((shape) => shape.fill === fill)?.w ?? 0) / whole);
    };
    expect(widths(0, 0)).toEqual([0, 0]);
    expect(widths(1440e6, 720e6)).toEqual([0.5, 0.25]);
    expect(widths(2880e6, 2880e6)).toEqual([1, 1]);
    expect(figure(report).alt.replace(/\s/gu, ' ')).toContain('Lot F26-0031: of 2 880 pieces affected, 2 100 pieces disposed of');
    expect(figure(report).alt.replace(/\s/gu, ' ')).toContain('9.5 kg too many');
  });

  test('a photograph that cannot be printed is listed by name and hash, and said to be so', () => {
    const [row] = rowsOf(exampleReport(), 'Files that are not printed');
    expect(row).toContain('seam.heic | image/heic, 2 204 118 bytes · what was found · is of a kind that cannot be set on paper here');
    expect(row).toContain('3f9ac01d 5b7e48f2');
  });

  test('a report just raised says of everything else that it is not there yet', () => {
    const bare: NonconformanceReport = {
      ...exampleReport(), judged: [], holds: [], consignees: [], review: null, dispositions: [], cause: null, actions: [], effectiveness: null,
      costs: [], signatures: [], files: [],
    }; // prettier-ignore
    const said = nonconformanceSheet(bare).blocks.flatMap((block) =>
      block.kind === 'paragraph' ? [block.text] : block.kind === 'table' && block.rows.length === 0 ? [block.empty] : [],
    );
    for (const text of [
      'Not reviewed yet.',
      'None is proposed yet.',
      'The cause is not analysed yet.',
      'None were kept.',
      'No cost is recorded.',
    ]) {
      expect(said).toContain(text);
    }
    expect(said.filter((text) => text === '')).toEqual([]);
  });
});
