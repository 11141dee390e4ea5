import { crc32, deflateSync, inflateSync } from 'node:zlib';

const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
/** Samples a pixel and their depths in bits, by colour type: PNG specification, third edition, 11.2.1 (from memory). */
const KINDS: Readonly<Record<number, { readonly samples: number; readonly depths: readonly number[] }>> = {
  0: { samples: 1, depths: [1, 2, 4, 8, 16] },
  2: { samples: 3, depths: [8, 16] },
  3: { samples: 1, depths: [1, 2, 4, 8] },
  4: { samples: 2, depths: [8, 16] },
  6: { samples: 4, depths: [8, 16] },
};

interface Png {
  readonly width: number;
  readonly height: number;
  readonly depth: number;
  readonly colour: number;
  readonly interlaced: boolean;
  readonly palette: Buffer | null;
  /** Rows as they were packed, each behind the number of its filter. */
  readonly packed: Buffer;
}

/**
 * The same picture without transparency, as if laid on white paper, and without anything but the picture: no times, places or profiles.
 * It is unpacked first, so that a damaged one is found before it is printed.
 * @param mostPixels that are unpacked at all
 * @returns what is wrong with it, in words that follow its name, if it cannot be printed
 */
export function plainPng(bytes: Uint8Array, mostPixels: number): Buffer | string {
  const png = readPng(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  if (png === null) return 'is damaged, or no whole picture';
  if (png.width * png.height > mostPixels) return 'has more pixels than are printed';
  if (png.interlaced) return 'is an interlaced PNG, which cannot be set on paper here';
  const bits = KINDS[png.colour]!.samples * png.depth;
  const rowBytes = Math.ceil((png.width * bits) / 8);
  const rows = unpacked(png, rowBytes);
  if (rows === null) return 'is damaged, or no whole picture';
  if (png.colour !== 4 && png.colour !== 6) return written(png, png.colour, png.depth, png.packed);
  const plain = onPaper(unfiltered(rows, rowBytes, png.height, bits / 8), png, rowBytes);
  return written(png, png.colour - 4, 8, deflateSync(plain));
}

function readPng(bytes: Buffer): Png | null {
  if (bytes.length < 33 || !bytes.subarray(0, 8).equals(SIGNATURE)) return null;
  let head: Buffer | null = null;
  let palette: Buffer | null = null;
  const data: Buffer[] = [];
  for (let at = 8; at + 12 <= bytes.length;) {
    const length = bytes.readUInt32BE(at);
    const kind = bytes.toString('latin1', at + 4, at + 8);
    const body = bytes.subarray(at + 8, at + 8 + length);
    if (body.length < length) return null;
    if (kind === 'IHDR') head = body;
    else if (kind === 'PLTE') palette = body;
    else if (kind === 'IDAT') data.push(body);
    else if (kind === 'IEND') break;
    at += length + 12;
  }
  if (head === null || head.length < 13 || data.length === 0) return null;
  const [depth, colour] = [head[8]!, head[9]!];
  if (KINDS[colour]?.depths.includes(depth) !== true || (colour === 3 && palette === null)) return null;
  const [width, height] = [head.readUInt32BE(0), head.readUInt32BE(4)];
  if (width === 0 || height === 0) return null;
  return { width, height, depth, colour, interlaced: head[12] !== 0, palette, packed: Buffer.concat(data) };
}

/** The rows, each behind the number of its filter; null where they are not all there. */
function unpacked({ packed, height }: Png, rowBytes: number): Buffer | null {
  const length = (rowBytes + 1) * height;
  try {
    const rows = inflateSync(packed, { maxOutputLength: length + 1 });
    if (rows.length !== length) return null;
    for (let at = 0; at < length; at += rowBytes + 1) if (rows[at]! > 4) return null;
    return rows;
  } catch {
    return null;
  }
}

/** Undoes the filters of the rows (PNG specification, 9.2), in place. @param step bytes a pixel */
function unfiltered(rows: Buffer, rowBytes: number, height: number, step: number): Buffer {
  for (let y = 0; y < height; y += 1) {
    const from = y * (rowBytes + 1) + 1;
    const filter = rows[from - 1]!;
    if (filter === 0) continue;
    for (let i = 0; i < rowBytes; i += 1) {
      const left = i < step ? 0 : rows[from + i - step]!;
      const above = y === 0 ? 0 : rows[from + i - rowBytes - 1]!;
      const corner = i < step || y === 0 ? 0 : rows[from + i - step - rowBytes - 1]!;
      rows[from + i] = (rows[from + i]! + predicted(filter, left, above, corner)) & 0xff;
    }
  }
  return rows;
}

function predicted(filter: number, left: number, above: number, corner: number): number {
  if (filter === 1) return left;
  if (filter === 2) return above;
  if (filter === 3) return (left + above) >> 1;
  const [a, b, c] = [Math.abs(above - corner), Math.abs(left - corner), Math.abs(left + above - 2 * corner)];
  return a <= b && a <= c ? left : b <= c ? above : corner;
}

/** Rows of 8 bits a sample without transparency, laid on white; of deeper samples the upper byte. */
function onPaper(rows: Buffer, { width, height, depth, colour }: Png, rowBytes: number): Buffer {
  const wide = depth / 8;
  const { samples } = KINDS[colour]!;
  const colours = samples - 1;
  const plain = Buffer.alloc((width * colours + 1) * height);
  let to = 0;
  for (let y = 0; y < height; y += 1) {
    to += 1; // no filter
    for (let at = y * (rowBytes + 1) + 1, x = 0; x < width; x += 1, at += samples * wide) {
      const alpha = rows[at + colours * wide]!;
      for (let i = 0; i < colours; i += 1) plain[to++] = Math.round((rows[at + i * wide]! * alpha + 255 * (255 - alpha)) / 255);
    }
  }
  return plain;
}

function written({ width, height, palette }: Png, colour: number, depth: number, packed: Buffer): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = depth;
  head[9] = colour;
  const chunks = [chunk('IHDR', head), ...(colour === 3 && palette ? [chunk('PLTE', palette)] : []), chunk('IDAT', packed)];
  return Buffer.concat([SIGNATURE, ...chunks, chunk('IEND', Buffer.alloc(0))]);
}

function chunk(kind: string, body: Buffer): Buffer {
  const whole = Buffer.alloc(body.length + 12);
  whole.writeUInt32BE(body.length, 0);
  whole.write(kind, 4, 'latin1');
  body.copy(whole, 8);
  whole.writeUInt32BE(crc32(whole.subarray(4, 8 + body.length)), 8 + body.length);
  return whole;
}
