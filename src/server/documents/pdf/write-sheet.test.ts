import { createHash } from 'node:crypto';
import { PassThrough, Writable } from 'node:stream';
import { describe, expect, test } from 'vitest';
import { exampleRecall, manyConsignees } from '../../../../test/bench/example-recall.js';
import { plain, readPdf } from '../../../../test/read-pdf.js';
import { recallSheet } from '../recall-report.model.js';
import type { RecallReport } from '../recall-report.types.js';
import type { Sheet } from '../sheet.model.js';
import { writeSheetPdf } from './write-sheet.js';

async function written(sheet: Sheet): Promise<{ bytes: Buffer; pages: number }> {
  const chunks: Buffer[] = [];
  const out = new Writable({
    write(chunk: Buffer, _encoding, done) {
      chunks.push(chunk);
      done();
    },
  });
  const { pages } = await writeSheetPdf(sheet, out);
  return { bytes: Buffer.concat(chunks), pages };
}

async function readRecall(report: RecallReport) {
  const { bytes, pages: count } = await written(recallSheet(report));
  const pdf = await readPdf(bytes);
  expect(pdf.pages).toHaveLength(count);
  return { ...pdf, all: pdf.pages.map(({ text }) => text).join('\n'), words: squeezed(pdf.pages.map(({ text }) => text).join('')) };
}

/** Text without its spaces, to find what was broken over lines. */
const squeezed = (text: string): string => text.replace(/\s+/gu, '');

const bare = (blocks: Sheet['blocks']): Sheet => ({
  title: 'A sheet', reference: 'X-1', proof: 'as known', pageStamp: null, madeAt: '2026-03-05T09:20:31.000Z', author: 'Fernhollow Works', blocks,
}); // prettier-ignore

const hash = async (report: RecallReport): Promise<string> =>
  createHash('sha256')
    .update((await written(recallSheet(report))).bytes)
    .digest('hex');

const table = (cells: readonly string[]): Sheet =>
  bare([
    {
      kind: 'table',
      summary: 'x',
      columns: cells.map((_, i) => ({ head: `Column ${i + 1}`, share: 1 })),
      rows: [{ kind: 'row', cells }],
      empty: '',
    },
  ]);

describe('the recall report on paper', () => {
  test('says everything, each page its number, its state of the record and its reference', async () => {
    const { pages, all, words, info, outline } = await readRecall(exampleRecall());
    pages.forEach(({ text }, i) => {
      expect(text).toContain(`page ${i + 1} of ${pages.length}`);
      expect(text).toContain('As known at ledger entry 8 812, 5 Mar 2026, 09:14 UTC, chain hash 3f9ac01d 5b7e48f2 …');
      expect(text).toContain('RC-0007');
      expect(text).not.toContain('DRILL');
    });
    const report = exampleRecall();
    for (const { code, name, contact, lines } of report.consignees) {
      for (const part of [code, name, contact ?? '', ...lines.map(({ shipment }) => shipment)]) expect(words).toContain(squeezed(part));
    }
    for (const { lot } of report.affectedLots) expect(all).toContain(lot);
    for (const { what } of [...report.timeline, ...report.decisions]) expect(words).toContain(squeezed(what));
    for (const part of [
      'What and why',
      'Products, as printed on the pack',
      'Scope',
      'River',
      'Ribbons',
      'Consignees',
      'Reconciliation',
      'Timeline',
      'Cautions',
    ]) {
      expect(outline).toContain(part);
    }
    expect(words).toContain(report.asKnownAt.hash);
    expect(info['Title']).toBe('Recall RC-0007: Chain wax: rust inhibitor below strength');
  });

  test('the contents name the pages the headings are on', async () => {
    const { pages, outline } = await readRecall(exampleRecall());
    const contents = pages[0]?.text ?? '';
    for (const heading of outline) {
      const page = Number(new RegExp(`${heading} (\\d+)`, 'u').exec(contents)?.[1]);
      expect(pages[page - 1]?.lines, `${heading} on page ${page}`).toContain(heading);
    }
    expect(outline.length).toBeGreaterThan(8);
  });

  test('a drill is stamped on every page and says so in its title', async () => {
    const report = exampleRecall();
    const { pages, info, all } = await readRecall({ ...report, recall: { ...report.recall, drill: true } });
    for (const { text } of pages) expect(text).toContain('DRILL');
    expect(info['Title']).toMatch(/^Recall drill/u);
    expect(all).toContain('This is a drill');
  });

  test('is tagged for screen readers: headings, tables with heads, figures in words', async () => {
    const { pages, marked } = await readRecall(exampleRecall());
    const tags = new Set(pages.flatMap((page) => page.tags));
    for (const tag of ['H1', 'H2', 'P', 'Table', 'TR', 'TH', 'TD', 'Figure', 'TOC']) expect(tags).toContain(tag);
    expect(marked).toBe(true);
    const alts = pages.flatMap((page) => page.alts).join('\n');
    expect(alts).toContain('Flow of affected material. From: R-0311 (Rust inhibitor)');
    expect(plain(alts)).toContain('Lot F-0031 of 4 800 pieces, 2 880 affected: 1 921–4 800');
  });

  test('a long list has every line, and its head and its group again on every page', async () => {
    const report = manyConsignees(260);
    const [first, ...others] = report.consignees;
    const lines = others.flatMap((consignee) => consignee.lines);
    const grouped = {
      ...report,
      consignees: [...others.slice(200).map((each) => ({ ...each })), { ...first!, lines: [...first!.lines, ...lines.slice(0, 200)] }],
    };
    const { pages, words, all } = await readRecall(grouped);
    for (const { lines: each } of grouped.consignees) for (const { shipment } of each) expect(words).toContain(shipment);
    const listed = pages.filter(({ text }) => /S-\d{6}/u.test(text));
    expect(listed.length).toBeGreaterThan(5);
    const heads = [
      'Shipment Sent Lot Piece numbers Amount sent Not back yet',
      'Who or where Shipment or document Lot Piece numbers Amount',
    ];
    for (const { text } of listed) expect(heads.some((head) => text.includes(head))).toBe(true);
    expect(all).toContain(`continued: ${first!.code} ${first!.name}`);
  });
});

describe('bytes', () => {
  test('equal sheets give equal bytes, other sheets others', async () => {
    const once = await hash(exampleRecall());
    expect(await hash(exampleRecall())).toBe(once);
    expect(await hash({ ...exampleRecall(), madeAt: '2026-03-05T09:20:32.000Z' })).not.toBe(once);
  });

  test('neither the bytes nor the text that is read back hang on what was written before in the same process', async () => {
    const heading = (text: string): Sheet => bare([{ kind: 'heading', level: 2, text }]);
    // The dot of a colon is the full stop: met as that part first, it was nobody's letter any more.
    await written(heading('A colon: and nothing else'));
    const { bytes: first } = await written(heading('1. Scrap\u00a0of F-1'));
    expect((await readPdf(first)).pages[0]?.text).toContain('1. Scrap of F-1');
    await written(heading('1. Scrap of F-1'));
    expect((await written(heading('1. Scrap\u00a0of F-1'))).bytes.equals(first)).toBe(true);
  });

  test('other work gets its turn while a long list is set', async () => {
    let turns = 0;
    let waiting = true;
    const turn = (): void => {
      turns += 1;
      if (waiting) setImmediate(turn);
    };
    setImmediate(turn);
    await written(recallSheet(manyConsignees(1000)));
    waiting = false;
    expect(turns).toBeGreaterThan(10);
  });

  test('a reader that goes away ends the writing with an error', async () => {
    const out = new PassThrough();
    out.once('data', () => out.destroy());
    await expect(writeSheetPdf(recallSheet(manyConsignees(1000)), out)).rejects.toThrow(/went away|premature close/iu);
  });
});

describe('awkward text', () => {
  test.each([
    ['a code without a break', `F-${'0123456789ABCDEF'.repeat(16)}`],
    ['a long name', 'The Worshipful Company of Chain, Sprocket and Bottom Bracket Factors of Upper and Lower Quillbridge, in liquidation'],
    ['accents', 'Łódź Żółć, Šárka Nováková, Őrség, Ångström, Saint-Aubrac-lès-Bœufs, Ğöksu, Țepeș'],
    ['signs', '≤ 5 – 7 … ± 0.5 × 2, 20 °C, ½, “so” ‘so’, €'],
    ['Greek and Cyrillic', 'Ποδήλατα Αλυσίδα; Велосипеды и цепи'],
    ['an arrow and a tick', 'A → B ✓ ∩'],
  ])('nothing is cut off: %s', async (_case, text) => {
    const { pages } = await readPdf((await written(table([text, 'narrow', 'narrow', 'narrow']))).bytes);
    expect(squeezed(pages[0]?.text ?? '')).toContain(squeezed(text));
  });

  test('letters that no face has are written out as numbers', async () => {
    const { pages } = await readPdf((await written(table(['漢字 bell \u0007']))).bytes);
    expect(pages[0]?.text).toContain('[U+6F22][U+5B57] bell [U+0007]');
  });

  test('a row higher than a page goes on overleaf and loses no line', async () => {
    const words = Array.from({ length: 900 }, (_, i) => `w${i}`);
    const { pages } = await readPdf((await written(table([words.join(' '), 'b', 'c', 'd', 'e']))).bytes);
    expect(pages.length).toBeGreaterThan(1);
    const found = pages.flatMap(({ text }) => text.match(/\bw\d+\b/gu) ?? []);
    expect(found).toEqual(words);
  });

  test('a caution higher than a page goes on overleaf and loses no line', async () => {
    const lines = Array.from({ length: 130 }, (_, i) => `F-${i}: nowhere to be found, piece w${i}`);
    const { pages } = await readPdf((await written(bare([{ kind: 'caution', title: 'It does not add up', lines }]))).bytes);
    expect(pages.length).toBeGreaterThan(2);
    expect(pages.flatMap(({ text }) => text.match(/\bw\d+\b/gu) ?? [])).toEqual(lines.map((_, i) => `w${i}`));
    for (const { text } of pages) expect(text).toContain('It does not add up');
  });

  test('an empty list says so in place of a table', async () => {
    const { all } = await readRecall({
      ...exampleRecall(),
      products: [],
      narrowings: [],
      consignees: [],
      inProcess: [],
      timeline: [],
      decisions: [],
      ribbons: [],
      river: null,
    });
    for (const said of [
      'No affected product has been packed',
      'Nothing was narrowed',
      'Nothing dispatched',
      'None: no unfinished run',
      'Nothing is recorded.',
      'No decision has been signed',
    ]) {
      expect(all).toContain(said);
    }
  });

  test('a heading goes overleaf with the caution below it', async () => {
    const caution = { kind: 'caution', title: 'Mind this', lines: Array.from({ length: 12 }, (_, i) => `Line ${i}.`) } as const;
    for (let before = 30; before < 60; before += 1) {
      const filler = Array.from({ length: before }, () => ({ kind: 'paragraph', text: 'Filler.' }) as const);
      const { bytes } = await written(bare([...filler, { kind: 'heading', level: 2, text: 'Cautions' }, caution]));
      const { pages } = await readPdf(bytes);
      expect(pages.findIndex(({ text }) => text.includes('Cautions'))).toBe(pages.findIndex(({ text }) => text.includes('Mind this')));
    }
  });

  test('a sheet of nothing is one page', async () => {
    expect((await written(bare([]))).pages).toBe(1);
  });
});
