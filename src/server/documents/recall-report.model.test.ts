import { describe, expect, test } from 'vitest';
import { exampleRecall, manyConsignees } from '../../../test/bench/example-recall.js';
import { plain } from '../../../test/read-pdf.js';
import { recallSheet } from './recall-report.model.js';
import type { RecallReport } from './recall-report.types.js';
import type { Block, Cell, FigureBlock, Row, TableBlock } from './sheet.model.js';

const words = (cell: Cell): string =>
  plain(typeof cell === 'string' ? cell : cell.map(({ text, stamp }) => stamp?.word ?? text).join(' / '));
const rowWords = (row: Row): string[] =>
  row.kind === 'group' ? [...row.title.map(({ text }) => plain(text)), plain(row.amount)] : row.cells.map(words);

/** The blocks under a level-2 heading. */
function section(report: RecallReport, heading: string): Block[] {
  const { blocks } = recallSheet(report);
  const from = blocks.findIndex((block) => block.kind === 'heading' && block.text === heading);
  const to = blocks.findIndex((block, i) => i > from && block.kind === 'heading' && block.level === 2);
  if (from === -1) throw new Error(`no heading ${heading}`);
  return blocks.slice(from, to === -1 ? undefined : to);
}
const tables = (report: RecallReport, heading: string): TableBlock[] => section(report, heading).filter((block) => block.kind === 'table');
const cautions = (blocks: readonly Block[]): string =>
  plain(blocks.flatMap((block) => (block.kind === 'caution' ? [block.title, ...block.lines] : [])).join(' '));
const texts = (blocks: readonly Block[]): string =>
  plain(blocks.flatMap((block) => (block.kind === 'paragraph' ? [block.text] : [])).join(' '));

const figures = (report: RecallReport, heading: string): FigureBlock[] =>
  section(report, heading).filter((block) => block.kind === 'figure');

describe('consignees', () => {
  test('each with contact, shipments, spans, pieces sent and pieces not back; in the order of their codes', () => {
    const [table] = tables(exampleRecall(), 'Consignees');
    expect(table?.rows.map(rowWords)).toEqual([
      ['C-014 Larch Cycles', 'Ida Marsh, +00 14 555 0107, ida.marsh@larch.example', '1 890 pieces'],
      ['S-0117', '5 Mar 2026', 'F-0031', '2 161–3 360', '1 200', '1 180'],
      ['S-0122', '6 Mar 2026', 'F-0032', '1–690', '690', '690'],
      ['C-021 Brook & Daughters', 'Wilhelmina Brook, +00 21 555 0142, recalls@brook.example', '540 pieces'],
      ['S-0118', '5 Mar 2026', 'F-0031', '1 921–2 160', '240', '240'],
      ['S-0121', '6 Mar 2026', 'F-0033', '1–300', '300', '300'],
      ['Total', '', '', '', '2 430 pieces', '2 410 pieces'],
    ]);
  });

  test('a consignee without a contact is pointed out', () => {
    const report = exampleRecall();
    const [table] = tables({ ...report, consignees: report.consignees.map((each) => ({ ...each, contact: null })) }, 'Consignees');
    expect(rowWords(table!.rows[0]!)[1]).toBe('No contact is recorded for this consignee.');
  });

  test('a list that disagrees with the reconciliation says so', () => {
    const report = exampleRecall();
    expect(cautions(section(report, 'Consignees'))).toBe('');
    const short = { ...report, consignees: report.consignees.slice(1) };
    expect(cautions(section(short, 'Consignees'))).toContain('not back yet: 1 870 pieces. Dispatched by the reconciliation: 2 410 pieces');
  });
});

describe('reconciliation', () => {
  test('states that it adds up, with the sums of each unit', () => {
    const report = exampleRecall();
    expect(texts(section(report, 'Reconciliation'))).toBe(
      'It adds up exactly: all of 1 695 kg, 5 660 pieces is accounted for, lot by lot.',
    );
    const [kilograms, pieces, places] = tables(report, 'Reconciliation');
    expect(rowWords(kilograms!.rows.at(-1)!).at(-1)).toBe('0 kg');
    expect(rowWords(pieces!.rows.at(-1)!)).toEqual(['Total', '5 660', '2 410', '3 218', '8', '24', '0']);
    expect(places?.rows.filter(({ kind }) => kind === 'row')).toHaveLength(report.whereabouts.length);
  });

  test('states what is missing, and why, where that is known', () => {
    const report = exampleRecall();
    const whereabouts = report.whereabouts.map((place) =>
      place.fate === 'retained' ? { ...place, spans: [[4777, 4790]] as const } : place,
    );
    const why = section(
      { ...report, whereabouts, differences: [{ lot: 'F-0031', why: 'Ten samples were found to be gone on 4 March.' }] },
      'Reconciliation',
    );
    expect(cautions(why)).toBe(
      'It does not add up F-0031: nowhere to be found: pieces 4 791–4 800. Ten samples were found to be gone on 4 March.',
    );
    expect(cautions(section({ ...report, whereabouts }, 'Reconciliation'))).toContain('Why is not known.');
    expect(cautions(recallSheet({ ...report, whereabouts }).blocks.slice(0, 3))).toContain('whereabouts differ');
  });

  test('thousands of shipments are summed by lot here, because the consignee list has each', () => {
    const places = tables(manyConsignees(1000), 'Reconciliation').at(-1)!;
    expect(places.rows.map(rowWords)).toEqual([
      ['Dispatched', '24 000 pieces'],
      ['1 000 consignees, each listed under Consignees', '1 000 shipments', 'F-9001', 'see Consignees', '24 000'],
    ]);
  });
});

describe('amounts (RE-7)', () => {
  const amounts = (report: RecallReport): string[] =>
    section(report, 'Amounts').flatMap((block) =>
      block.kind === 'facts' ? block.facts.map(({ label, value }) => `${label}: ${words(value)}`) : [],
    );

  test('RE-7: in all, when made, how much was sent and when, what is left out there, what is held and how; they add up', () => {
    expect(amounts(exampleRecall())).toEqual([
      'To be recalled: 5 660 pieces, made from 3 Mar 2026 to 4 Mar 2026',
      'Sent to customers: 2 430 pieces, sent from 5 Mar 2026 to 6 Mar 2026',
      'Left in the market: 2 410 pieces',
      'Still held here: 3 218 pieces, 3 198 pieces of it in quarantine or on hold',
      'Used or disposed of: 32 pieces',
    ]);
  });

  test('RE-7: goods that are free to leave are not passed over, and one day is one date', () => {
    const report = exampleRecall();
    const one = {
      ...report.amounts[0]!,
      unit: 'kg',
      madeUntil: '2026-03-03',
      distributedMicro: 0,
      distributedFrom: null,
      distributedUntil: null,
    };
    const said = (onHandStoppedMicro: number): string[] => amounts({ ...report, amounts: [{ ...one, onHandStoppedMicro }] });
    expect(said(0)[3]).toBe('Still held here: 3 218 kg, none of it in quarantine or on hold');
    expect(said(one.onHandMicro).slice(0, 4)).toEqual([
      'To be recalled: 5 660 kg, made on 3 Mar 2026',
      'Sent to customers: 0 kg',
      'Left in the market: 2 410 kg',
      'Still held here: 3 218 kg, all of it in quarantine or on hold',
    ]);
  });
});

describe('scope', () => {
  test('both scopes stand side by side with what narrowing leaves out and what it rests on', () => {
    const [compared, evidence] = tables(exampleRecall(), 'Scope');
    expect(compared?.rows.map(rowWords)).toEqual([
      ['Lots', '6', '6', '0'],
      ['Numbered pieces', '5 660', '7 580', '1 920'],
      ['Not numbered, in kg', '1 695 kg', '1 695 kg', '0 kg'],
      ['Consignees', '2', '3', '1'],
    ]);
    expect(rowWords(evidence!.rows[0]!)[3]).toContain('Changeover at piece 1 921');
  });

  test('a narrowing without evidence is not to be relied on', () => {
    const report = exampleRecall();
    const [, evidence] = tables({ ...report, narrowings: report.narrowings.map((each) => ({ ...each, evidence: [] })) }, 'Scope');
    expect(rowWords(evidence!.rows[0]!)[3]).toBe('No evidence is recorded. Use the whole lot.');
  });

  test('affected lots come in the order of their steps from the origin, with shares by span', () => {
    const [lots] = tables(exampleRecall(), 'Affected lots');
    expect(lots?.rows.map((row) => rowWords(row)[0]?.split(' / ')[0])).toEqual([
      'R-0311',
      'B-0418',
      'B-0419',
      'F-0031',
      'F-0032',
      'F-0033',
    ]);
    expect(rowWords(lots!.rows[4]!).at(-1)).toBe('1–360: 4.82 % / 361–1 960: 0.16 %');
    expect(rowWords(lots!.rows[0]!)[1]).toBe('Not accepted');
  });
});

describe('cautions', () => {
  test('duties stay with people and law, and a hazard that nobody evaluated is not taken for none', () => {
    const report = exampleRecall();
    expect(cautions(section(report, 'Cautions'))).toContain('duties of the people responsible');
    const facts = section({ ...report, recall: { ...report.recall, hazard: null } }, 'What and why').find(
      (block) => block.kind === 'facts',
    );
    expect(JSON.stringify(facts)).toContain('Not evaluated yet');
  });

  test('unfinished runs and lots that are still released stand on the first page', () => {
    const report = exampleRecall();
    const released = report.affectedLots.map((lot) => ({ ...lot, status: 'released' as const }));
    const first = cautions(recallSheet({ ...report, affectedLots: released }).blocks.slice(0, 2));
    expect(first).toContain('M-0420. Stop or segregate it now.');
    expect(first).toContain('still released');
    expect(cautions(recallSheet({ ...report, inProcess: [] }).blocks.slice(0, 2))).not.toContain('Stop or segregate');
  });

  test('only a drill is stamped', () => {
    const report = exampleRecall();
    expect(recallSheet(report).pageStamp).toBeNull();
    const drill = recallSheet({ ...report, recall: { ...report.recall, drill: true } });
    expect(drill.pageStamp?.word).toBe('Drill');
    expect(drill.proof).toMatch(/^Drill\. /u);
  });
});

describe('figures', () => {
  test('in the river affected bands are inked and drawn over the pale ones', () => {
    const [river] = figures(exampleRecall(), 'River');
    const tones = river!.shapes.flatMap((shape) => (shape.kind === 'band' ? [shape.tone] : []));
    expect(tones.filter((tone) => tone === 'accent')).toHaveLength(15);
    expect(tones.filter((tone) => tone === 'ghost')).toHaveLength(8);
    expect(tones.lastIndexOf('ghost')).toBeLessThan(tones.indexOf('accent'));
  });

  test('what is too narrow to be named in a ribbon is named below it', () => {
    const [ribbon] = figures(exampleRecall(), 'Ribbons');
    expect(plain(ribbon!.caption ?? '')).toBe(
      'Too narrow to be named above: C-021 Brook & Daughters: 1 921–2 160; Returns bay: 2 161–2 180; Sample store: 4 777–4 800.',
    );
    const ends = ribbon!.shapes.map((shape) => (shape.kind === 'rect' ? shape.x + shape.w : 0));
    expect(Math.max(...ends)).toBeLessThanOrEqual(ribbon!.width + 0.5);
  });

  test('a river of hundreds of lots is folded, and says of how many', () => {
    const report = exampleRecall();
    const nodes = Array.from({ length: 400 }, (_, i) => ({
      ...report.river!.nodes[i % 3]!,
      id: `X-${i}`,
      label: `X-${i}`,
      at: `2026-0${1 + (i % 3)}-0${1 + (i % 9)}T00:00:00.000Z`,
    }));
    const [river] = figures({ ...report, river: { nodes, links: [] } }, 'River');
    expect(plain(river!.caption ?? '')).toContain('400 lots, runs and places are drawn as');
    expect(river!.shapes.filter(({ kind }) => kind === 'rect').length).toBeLessThan(120);
  });
});
