import { Writable } from 'node:stream';
import { inflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { GREY_JPEG, pictureOfCan, png, TURNED_JPEG } from '../../../../test/pictures.js';
import { readPdf } from '../../../../test/read-pdf.js';
import type { Photograph, Sheet } from '../sheet.model.js';
import { pictureOf } from './picture.js';
import { writeSheetPdf } from './write-sheet.js';

const sheet = (photographs: readonly Photograph[]): Sheet => ({
  title: 'A sheet', reference: 'X-1', proof: 'as known', pageStamp: null, madeAt: '2026-03-05T09:20:31.000Z', author: 'Fernhollow Works',
  blocks: [{ kind: 'heading', level: 2, text: 'Photographs' }, { kind: 'photographs', photographs }],
}); // prettier-ignore

async function written(photographs: readonly Photograph[]): Promise<Buffer> {
  const chunks: Buffer[] = [];
  const out = new Writable({
    write(chunk: Buffer, _encoding, done) {
      chunks.push(chunk);
      done();
    },
  });
  await writeSheetPdf(sheet(photographs), out);
  return Buffer.concat(chunks);
}

function photograph(bytes: Buffer, mediaType: string, caption = 'A can'): Photograph {
  const picture = pictureOf(bytes, mediaType);
  if (typeof picture === 'string') throw new Error(picture);
  const { width, height } = picture;
  return { width, height, alt: `Photograph: ${caption}`, caption, note: 'SHA-256 3f9a', read: async () => picture.bytes };
}

/** Red, half red and no red at all: two rows of one RGBA pixel each after a given filter. */
const halfRed = (filter: number, first: readonly number[], second: readonly number[]): Buffer =>
  png(1, 2, 6, Buffer.from([filter, ...first, filter, ...second]));

describe('photographs on paper', () => {
  test('JPEG and PNG are embedded with their captions, in words for those who cannot see them, and equal sheets give equal bytes', async () => {
    const all = () => [
      photograph(pictureOfCan(), 'image/png', 'A can'),
      photograph(GREY_JPEG, 'image/jpeg', 'A lid'),
      photograph(TURNED_JPEG, 'image/jpeg', 'Turned'),
      photograph(halfRed(0, [255, 0, 0, 255], [255, 0, 0, 128]), 'image/png', 'See-through'),
    ];
    const bytes = await written(all());
    expect((await written(all())).equals(bytes)).toBe(true);
    expect(bytes.toString('latin1').match(/\/Subtype \/Image/gu)).toHaveLength(4);
    expect(bytes.includes(GREY_JPEG)).toBe(true);
    expect(bytes.includes('/SMask')).toBe(false);
    const { pages } = await readPdf(bytes);
    expect(pages.flatMap((page) => page.alts)).toEqual(['A can', 'A lid', 'Turned', 'See-through'].map((one) => `Photograph: ${one}`));
    expect(pages[0]?.text).toContain('A can SHA-256 3f9a');
  });

  test('rows of photographs go overleaf whole, the heading with the first', async () => {
    const many = Array.from({ length: 9 }, (_, i) => photograph(pictureOfCan(400, 600), 'image/png', `View ${i}`));
    const { pages } = await readPdf(await written(many));
    expect(pages.map((page) => page.text.match(/View \d/gu) ?? [])).toEqual([
      ['View 0', 'View 1', 'View 2', 'View 3'],
      ['View 4', 'View 5', 'View 6', 'View 7'],
      ['View 8'],
    ]);
    expect(pages[0]?.text).toContain('Photographs');
  });
});

describe('a picture', () => {
  test('is measured as it is held upright', () => {
    expect(pictureOf(GREY_JPEG, 'image/jpeg')).toMatchObject({ width: 16, height: 8 });
    expect(pictureOf(TURNED_JPEG, 'image/jpeg')).toMatchObject({ width: 8, height: 16 });
    expect(pictureOf(pictureOfCan(5, 7), 'image/png')).toMatchObject({ width: 5, height: 7 });
  });

  test.each([
    [0, [200, 100, 50, 0], [40, 20, 10, 255]],
    [1, [200, 100, 50, 0], [40, 20, 10, 255]],
    [2, [200, 100, 50, 0], [96, 176, 216, 255]],
    [3, [200, 100, 50, 0], [196, 226, 241, 255]],
    [4, [200, 100, 50, 0], [96, 176, 216, 255]],
  ])('with transparency is laid on white, whatever filter its rows have: %s', (filter, first, second) => {
    const picture = pictureOf(halfRed(filter, first, second), 'image/png');
    if (typeof picture === 'string') throw new Error(picture);
    const at = Buffer.from(picture.bytes).indexOf('IDAT');
    const length = Buffer.from(picture.bytes).readUInt32BE(at - 4);
    const rows = inflateSync(Buffer.from(picture.bytes).subarray(at + 4, at + 4 + length));
    expect([...rows]).toEqual([0, 255, 255, 255, 0, 40, 20, 10]);
  });

  test.each([
    ['a cut PNG', pictureOfCan().subarray(0, 200), 'image/png', 'damaged'],
    ['rows that do not unpack', png(4, 4, 6, Buffer.alloc(3)), 'image/png', 'damaged'],
    ['a row with no such filter', png(1, 1, 6, Buffer.from([9, 1, 2, 3, 4])), 'image/png', 'damaged'],
    ['rows of another length', png(1, 1, 2, Buffer.alloc(400)), 'image/png', 'damaged'],
    ['an interlaced PNG', png(1, 1, 2, Buffer.alloc(4), true), 'image/png', 'interlaced'],
    ['more pixels than memory', png(60_000, 60_000, 2, Buffer.alloc(4)), 'image/png', 'more pixels'],
    ['a JPEG of nothing', Buffer.from('ffd8ffd9', 'hex'), 'image/jpeg', 'damaged'],
    ['WebP', Buffer.from('RIFF....WEBPVP8 '), 'image/webp', 'of a kind'],
  ])('that cannot be printed is said to be so: %s', (_what, bytes, mediaType, why) => {
    expect(pictureOf(bytes, mediaType)).toContain(why);
  });
});
