/*
 * What this folder uses of pdfkit beyond its types. Its version is pinned, and the tests read back every text, tag and figure, so a
 * change in here is noticed.
 */

/** An element for screen readers. */
export type Element = PDFKit.PDFStructureElement;

/** What pdfkit keeps of a font. */
export interface FontInside {
  readonly id: string;
  ref(): unknown;
  encode(text: string): [glyphs: string[], positions: unknown];
}

/** What pdfkit keeps of a document. */
export interface DocumentInside {
  readonly _font: FontInside;
  readonly page: { readonly fonts: Record<string, unknown>; readonly structParentTreeKey: number } | null;
  getStructParentTree(): { get(key: number): unknown; add(key: number, value: unknown): unknown };
  ref(data: unknown): { data: unknown; end(): void };
  /** @throws a text when the picture is none */
  openImage(bytes: Buffer): ImageInside;
}

/** What pdfkit finds out about a picture when it opens it. */
export interface ImageInside {
  readonly width: number;
  readonly height: number;
  /** Of a JPEG, as in its Exif data; above 4 it lies on its side. */
  readonly orientation?: number;
  readonly bits?: number;
  readonly colorSpace?: string;
}

/** Table attributes have no option in pdfkit: they are set in the element's own dictionary before it is written. */
interface ElementInside {
  readonly dictionary: { readonly data: { A?: Record<string, unknown> } };
}

export function insideOf(document: PDFKit.PDFDocument): DocumentInside {
  return document as unknown as DocumentInside;
}

export function insideOfElement(element: Element): ElementInside {
  return element as unknown as ElementInside;
}

/** A length as it is written into a PDF: a thousandth of a point is finer than any printer. */
export function rounded(length: number): number {
  return Math.round(length * 1000) / 1000;
}

/** A colour written `#rrggbb` in the numbers of a PDF. */
export function rgb(color: string): string {
  return [1, 3, 5].map((at) => rounded(Number.parseInt(color.slice(at, at + 2), 16) / 255)).join(' ');
}
