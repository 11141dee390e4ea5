import { getDocument, type PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** What is printed on one page, and what a screen reader is told of it. */
export interface ReadPage {
  /** All text of the page in the order it was drawn, with one space where the drawing moved on. */
  readonly text: string;
  readonly lines: readonly string[];
  readonly tags: readonly string[];
  readonly alts: readonly string[];
}

interface StructNode {
  readonly role?: string;
  readonly alt?: string;
  readonly children?: readonly StructNode[];
}

/** Reads a PDF back by a library that shares no code with the one that wrote it. */
export async function readPdf(
  bytes: Uint8Array,
): Promise<{ pages: ReadPage[]; info: Record<string, unknown>; marked: boolean; outline: string[] }> {
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0 });
  const pdf = await task.promise;
  const pages: ReadPage[] = [];
  for (let n = 1; n <= pdf.numPages; n += 1) pages.push(await readPage(pdf, n));
  const { info } = await pdf.getMetadata();
  const mark = (await pdf.getMarkInfo()) as { Marked?: boolean } | null;
  const outline = ((await pdf.getOutline()) ?? []).map(({ title }: { title: string }) => title);
  await task.destroy();
  return { pages, info: info as Record<string, unknown>, marked: mark?.Marked === true, outline };
}

async function readPage(pdf: PDFDocumentProxy, n: number): Promise<ReadPage> {
  const page = await pdf.getPage(n);
  const { items } = await page.getTextContent();
  const lines = items.flatMap((item) => ('str' in item && item.str !== '' ? [item.str] : []));
  const tags: string[] = [];
  const alts: string[] = [];
  const walk = (node: StructNode): void => {
    if (node.role !== undefined) tags.push(node.role);
    if (node.alt !== undefined) alts.push(node.alt);
    node.children?.forEach(walk);
  };
  const tree = (await page.getStructTree()) as StructNode | null;
  if (tree !== null) walk(tree);
  page.cleanup();
  return { text: plain(lines.join(' ')), lines: lines.map(plain), tags, alts };
}

/** Text with all kinds of spaces alike. */
export function plain(text: string): string {
  return text.replace(/\s+/gu, ' ').trim();
}
