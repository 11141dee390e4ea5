import Pdf from 'pdfkit';
import { plainPng } from '../plain-png.js';
import { type ImageInside, insideOf } from './inside.js';

/** A picture as it can be printed. */
interface Picture {
  /** Pixels, held upright. */
  readonly width: number;
  readonly height: number;
  readonly bytes: Uint8Array;
}

/** The most pixels that are printed: more than any camera's, and few enough to be unpacked in memory. */
const MOST_PIXELS = 120_000_000;

/**
 * Makes sure of a picture before a page is begun: one that cannot be printed is said to be so in words.
 * @param mediaType as found from the content
 * @returns why it cannot be printed, in words that follow the name of the file, if it cannot
 */
export function pictureOf(bytes: Uint8Array, mediaType: string): Picture | string {
  if (mediaType !== 'image/jpeg' && mediaType !== 'image/png') return 'is of a kind that cannot be set on paper here';
  const printable = mediaType === 'image/png' ? plainPng(bytes, MOST_PIXELS) : bytes;
  if (typeof printable === 'string') return printable;
  const opened = open(printable);
  if (opened === null) return 'is damaged, or no whole picture';
  const { width, height, orientation = 1 } = opened;
  if (width * height > MOST_PIXELS) return 'has more pixels than are printed';
  return orientation > 4 ? { width: height, height: width, bytes: printable } : { width, height, bytes: printable };
}

function open(bytes: Uint8Array): ImageInside | null {
  try {
    const document = insideOf(new Pdf({ autoFirstPage: false }));
    const image = document.openImage(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
    const jpeg = 'bits' in image && 'colorSpace' in image; // in a PDF its samples have 8 bits and one of three kinds of colour
    return image.width > 0 && image.height > 0 && (!jpeg || (image.bits === 8 && image.colorSpace !== undefined)) ? image : null;
  } catch {
    return null; // pdfkit throws texts, not errors
  }
}
