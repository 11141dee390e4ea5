import { createCanvas } from '@napi-rs/canvas';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';

/** A symbol as a scanner finds it on the printed page. */
export interface ReadSymbol {
  /** As a scanner sends it: symbology identifier, then the text with its separators. */
  readonly scan: string;
  readonly format: string;
  readonly contentType: string;
}

const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'));
prepareZXingModule({ overrides: { wasmBinary: wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength) } });

const POINTS_PER_INCH = 72;

/** A page as a printer would put it on paper: dots, white where nothing is drawn. */
export async function printPages(
  bytes: Uint8Array,
  dpi: number,
): Promise<{ png: Buffer; data: Uint8ClampedArray; width: number; height: number }[]> {
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0 });
  const pdf = await task.promise;
  const pages = [];
  for (let n = 1; n <= pdf.numPages; n += 1) {
    const page = await pdf.getPage(n);
    const viewport = page.getViewport({ scale: dpi / POINTS_PER_INCH });
    const [width, height] = [Math.round(viewport.width), Math.round(viewport.height)];
    const canvas = createCanvas(width, height);
    const context = canvas.getContext('2d');
    await page.render({ canvas: canvas as never, canvasContext: context, viewport, background: '#ffffff' }).promise;
    pages.push({ png: canvas.toBuffer('image/png'), data: context.getImageData(0, 0, width, height).data, width, height });
    page.cleanup();
  }
  await task.destroy();
  return pages;
}

/** Every symbol on every page of a PDF, read by a library that shares no code with the one that drew them. */
export async function readSymbols(bytes: Uint8Array, dpi = 300): Promise<ReadSymbol[][]> {
  const pages: ReadSymbol[][] = [];
  for (const { data, width, height } of await printPages(bytes, dpi)) {
    const found = await readBarcodes(
      { data, width, height, colorSpace: 'srgb' },
      {
        formats: ['DataMatrix'],
        maxNumberOfSymbols: 0,
        textMode: 'Plain',
      },
    );
    const inOrder = found.toSorted((a, b) => a.position.topLeft.y - b.position.topLeft.y || a.position.topLeft.x - b.position.topLeft.x);
    pages.push(inOrder.map((one) => ({ scan: `${one.symbologyIdentifier}${one.text}`, format: one.format, contentType: one.contentType })));
  }
  return pages;
}
