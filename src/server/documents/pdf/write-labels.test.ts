import { PassThrough } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { CSET_82 } from '../../../../shared/gs1/check-pair.js';
import { readScan } from '../../../../shared/scan/read-scan.js';
import { builtUnit, filledLot, receivedLot } from '../../../../test/example-label.js';
import { readPdf } from '../../../../test/read-pdf.js';
import { readSymbols } from '../../../../test/read-symbols.js';
import { labelOf, type LabelSubject } from '../label.model.js';
import { type LabelPaper, writeLabelsPdf } from './write-labels.js';

const FILE = { title: 'Labels', author: 'Fernhollow Works', madeAt: '2026-11-25T10:00:00.000Z' };

async function written(subjects: readonly LabelSubject[], paper: LabelPaper): Promise<Buffer> {
  const out = new PassThrough();
  const all = buffer(out);
  await writeLabelsPdf(subjects.map(labelOf), paper, FILE, out);
  return all;
}

const read = (scan: string) => readScan(scan, '2026-11-25');
const longLot = { ...receivedLot, lot: 'LOT-2026/ABCDEFGHIJKLMNOP-0123456789-xyz' };
const umlauts = { ...receivedLot, lot: 'Größe 7' };
const kanji = { ...receivedLot, lot: '漢字-1' };

test.each(['roll', 'a4'] as const)(
  'ID-10: printed on %s at 300 dots an inch, every symbol is read back and names lot and item',
  async (paper) => {
    const pages = await readSymbols(await written([filledLot, receivedLot, builtUnit, longLot, umlauts, kanji], paper));
    expect(pages.map((symbols) => symbols.length)).toEqual(paper === 'roll' ? [1, 1, 1, 1, 1, 1] : [6]);
    const byScan = new Map(pages.flat().map((one) => [one.scan, one]));
    const [filled, received, unit, long, latin, other] = [
      ']d201095060000134351728112010F26-00012',
      ']d291lot=R26-00417\u001d92item=WAX-BASE',
      ']d2010950600001345910A26-00003\u001d21K-02291',
      `]d1${longLot.lot}`,
      `]d1${umlauts.lot}`,
      `]d1${kanji.lot}`,
    ] as const;
    for (const scan of [filled, received, unit]) expect(byScan.get(scan)).toMatchObject({ format: 'DataMatrix', contentType: 'GS1' });
    for (const scan of [long, latin, other]) expect(byScan.get(scan)).toMatchObject({ format: 'DataMatrix', contentType: 'Text' });
    expect(read(filled)).toMatchObject({ gtin: '09506000013435', lot: 'F26-00012', expiresOn: '2028-11-20', cautions: [] });
    expect(read(received)).toMatchObject({ item: 'WAX-BASE', lot: 'R26-00417', gtin: null, cautions: [] });
    expect(read(unit)).toMatchObject({ gtin: '09506000013459', serial: 'K-02291', lot: 'A26-00003', cautions: [] });
    expect([long, latin, other].map(read)).toEqual([longLot, umlauts, kanji].map(({ lot }) => ({ kind: 'plain', text: lot })));
  },
);

test('ID-8: any lot code comes back from paper as it was, letter for letter', async () => {
  const codes = fc.oneof(
    fc.array(fc.constantFrom(...CSET_82), { minLength: 1, maxLength: 20 }).map((letters) => letters.join('')),
    fc
      .array(fc.constantFrom(...CSET_82, ' ', '#', '^', '~', '@', 'é', 'ß'), { minLength: 1, maxLength: 64 })
      .map((letters) => letters.join('')),
  );
  const plantLots = codes.filter((code) => code === code.trim());
  const printed = fc.sample(fc.record({ lot: plantLots, like: fc.constantFrom(filledLot, receivedLot) }), { numRuns: 24, seed: 5 });
  const pages = await readSymbols(
    await written(
      printed.map(({ lot, like }) => ({ ...like, lot })),
      'roll',
    ),
  );
  const lots = pages.map(([symbol]) => {
    const scan = read(symbol!.scan);
    return scan.kind === 'gs1' ? scan.lot : scan.text;
  });
  expect(lots).toEqual(printed.map(({ lot }) => lot));
}, 60_000);

test('ID-10: the words on a label', async () => {
  const { pages, info, marked } = await readPdf(await written([filledLot, receivedLot, builtUnit], 'roll'));
  expect(pages).toHaveLength(3);
  expect(marked).toBe(true);
  expect(info['Title']).toBe('Labels');
  const [filled, received, unit] = pages;
  expect(filled!.lines.filter((line) => line !== '')).toEqual([
    'Fernhollow Works',
    'printed 25 Nov 2026',
    'F26-00012',
    'Chain wax, can 250 g',
    'WAX-250',
    'Quantity made',
    '4 800 pieces',
    'Use by',
    '20 Nov 2028',
    'Made',
    '20 Nov 2026',
    '(01)09506000013435',
    '(17)281120',
    '(10)F26-00012',
    'QUARANTINE',
    'until released: scan for its state now',
    '!',
    'CAUTION',
    'Contains solvent: flammable, see the safety data sheet',
  ]);
  expect(filled!.alts).toEqual(['DataMatrix of lot F26-00012: (01)09506000013435 (17)281120 (10)F26-00012']);
  expect(received!.text).toContain('Received 25 Nov 2026 Quillmere Waxes QW-22913/A');
  expect(received!.text).toContain('STORE Keep dry, below 25 °C');
  expect(received!.text).not.toContain('DEMO');
  expect(received!.text).not.toContain('CAUTION');
  expect(unit!.text).toContain('DEMO');
});

test('a hazard too long for its band says where the rest is', async () => {
  const hazard = 'Flammable liquid and vapour. '.repeat(20);
  const { pages } = await readPdf(await written([{ ...filledLot, item: { ...filledLot.item, hazard } }], 'roll'));
  expect(pages[0]!.text).toContain('CAUTION Flammable liquid and vapour. Flammable');
  expect(pages[0]!.text).toMatch(/… scan for the rest$/);
});

test('equal labels printed at one instant are equal bytes', async () => {
  const [a, b] = [await written([filledLot, builtUnit], 'a4'), await written([filledLot, builtUnit], 'a4')];
  expect(a.equals(b)).toBe(true);
});

test('nine labels are two sheets', async () => {
  const pages = await readSymbols(
    await written(
      Array.from({ length: 9 }, () => filledLot),
      'a4',
    ),
    150,
  );
  expect(pages.map((symbols) => symbols.length)).toEqual([8, 1]);
}, 60_000);
