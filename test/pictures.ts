import { crc32, deflateSync } from 'node:zlib';

const chunk = (kind: string, body: Buffer): Buffer => {
  const named = Buffer.concat([Buffer.from(kind, 'latin1'), body]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(body.length);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
};

/** A PNG of 8 bits a sample, row by row behind its filter. @param colour 2 colours, 6 colours with transparency */
export function png(width: number, height: number, colour: 2 | 6, rows: Buffer, interlaced = false): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, colour, 0, 0, interlaced ? 1 : 0], 8);
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([signature, chunk('IHDR', head), chunk('IDAT', deflateSync(rows)), chunk('IEND', Buffer.alloc(0))]);
}

/** A photograph that never was: a can between sky and bench, so that up and down can be told apart. */
export function pictureOfCan(width = 320, height = 240): Buffer {
  const rows = Buffer.alloc((width * 3 + 1) * height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const can = Math.abs(x - width / 2) < width / 7 && y > height / 4 && y < height * 0.8;
      const lid = can && y < height * 0.3;
      const ink = lid ? [120, 120, 126] : can ? [166, 59, 31] : y < height * 0.7 ? [205, 219, 230] : [150, 128, 98];
      rows.set(ink, y * (width * 3 + 1) + 1 + x * 3);
    }
  }
  return png(width, height, 2, rows);
}

/** A JPEG of 16 by 8 grey pixels, light above. */
export const GREY_JPEG = Buffer.from(
  [
    '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxOUlNSMj5aYVpQYEpRUk//',
    'wAALCAAIABABAREA/8QAFQABAQAAAAAAAAAAAAAAAAAAAAP/xAAXEAADAQAAAAAAAAAAAAAAAAAAFmOh/9oACAEBAAA/ALt1NDdTT//Z',
  ].join(''),
  'base64',
);

/** The same as a telephone held on its side keeps it: 8 by 16 pixels when turned as its Exif data says (orientation 6). */
export const TURNED_JPEG = Buffer.concat([
  GREY_JPEG.subarray(0, 2),
  Buffer.from('ffe100224578696600004d4d002a00000008000101120003000000010006000000000000', 'hex'),
  GREY_JPEG.subarray(2),
]);
