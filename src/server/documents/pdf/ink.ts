import Pdf from 'pdfkit';
import type { Writable } from 'node:stream';
import type { Sheet } from '../sheet.model.js';
import type { Canvas, Stroke, Tag, TagOptions } from './canvas.js';
import { Face } from './face.js';
import type { Faces, Weight } from './faces.js';
import { insideOf, insideOfElement, rgb, rounded, type DocumentInside, type Element, type FontInside } from './inside.js';
import { PAPER } from './paper.js';

/** The canvas of the second pass, and the one file that knows pdfkit. */
export class InkCanvas implements Canvas {
  readonly #doc: PDFKit.PDFDocument;
  readonly #open: Element[] = [];
  readonly #registered = new Set<string>();
  readonly #glyphs = new Map<string, Map<number, string>>();
  #color = '';
  #pending = '';

  constructor(
    sheet: Pick<Sheet, 'title' | 'author' | 'madeAt'>,
    private readonly faces: Faces,
    private readonly out: Writable,
    private readonly paper: { readonly width: number; readonly height: number } = PAPER,
  ) {
    const made = new Date(sheet.madeAt);
    this.#doc = new Pdf({
      size: [paper.width, paper.height],
      margin: 0, // pdfkit adds a page of its own when text comes near a bottom margin
      autoFirstPage: false,
      pdfVersion: '1.7',
      ...({ subset: 'PDF/UA' } as object), // which pdfkit's types do not know yet
      tagged: true,
      lang: 'en',
      displayTitle: true,
      fontLayoutCache: false, // Faces keeps letters, which do not grow with the list
      // Dates and names given here, not by the clock: equal sheets give equal bytes.
      info: { Title: sheet.title, Author: sheet.author, Creator: 'Kinledger', Producer: 'Kinledger', CreationDate: made, ModDate: made },
    });
    this.#doc.pipe(out);
    const root = this.#doc.struct('Document');
    this.#doc.addStructure(root);
    this.#open.push(root);
  }

  /** Writes what is left; the stream ends by itself. */
  end(): void {
    if (this.#open.length !== 1) throw new Error('an element was left open');
    this.#letGoOfPage();
    this.#doc.end();
  }

  page(): void {
    if (this.out.destroyed) throw new Error('the reader of the document went away');
    this.#letGoOfPage();
    this.#doc.addPage({ size: [this.paper.width, this.paper.height], margin: 0 });
    this.#color = '';
  }

  /**
   * Which elements a page's content belongs to is a list at the document's end, and pdfkit keeps every element of every page for it.
   * Written as an object of its own as soon as the page is full, the list need not be kept, nor the elements in it.
   */
  #letGoOfPage(): void {
    const inside = this.#inside;
    if (inside.page === null) return;
    const key = inside.page.structParentTreeKey;
    const tree = inside.getStructParentTree();
    const list = inside.ref(tree.get(key));
    list.end();
    list.data = null;
    tree.add(key, list);
  }

  open(tag: Tag, options: TagOptions = {}): void {
    const element = this.#doc.struct(tag, options.alt === undefined ? {} : { alt: options.alt });
    const attributes: Record<string, unknown> = {};
    if (options.summary !== undefined) attributes['Summary'] = Object(options.summary); // pdfkit writes boxed strings as text, bare ones as names
    if (options.scope !== undefined) attributes['Scope'] = options.scope;
    if (options.span !== undefined) attributes['ColSpan'] = options.span;
    if (Object.keys(attributes).length > 0) insideOfElement(element).dictionary.data.A = { O: 'Table', ...attributes };
    this.#innermost().add(element);
    this.#open.push(element);
  }

  close(): void {
    this.#innermost().end();
    this.#open.pop();
  }

  content(draw: () => void): void {
    this.#innermost().add(() => {
      draw();
      this.#flush();
    });
  }

  artifact(draw: () => void): void {
    this.#doc.markContent('Artifact', { type: 'Layout' });
    draw();
    this.#flush();
    this.#doc.endMarkedContent();
  }

  text(text: string, x: number, y: number, weight: Weight, size: number, color: string, spread = 0): void {
    this.#fill(color);
    let at = x;
    for (const run of this.faces.runs(text, weight)) {
      const face = this.faces.face(run.face);
      const font = this.#font(run.face);
      if (Face.needsShaping(run.text)) this.#pdf.fontSize(size).text(run.text, at, y, { lineBreak: false, baseline: 'alphabetic' });
      else this.#pending += this.#textOperators(face, font, run.text, at, y, size, spread);
      at += (run.width * size) / 1000 + spread * run.text.length;
    }
  }

  /**
   * Letters side by side, in the PDF's own operators (ISO 32000-1:2008, 9.4). pdfkit's `text` lays every line out three times and
   * writes it in ten steps, which for a list of ten thousand lines is most of the time and of the memory.
   */
  #textOperators(face: Face, font: FontInside, text: string, x: number, y: number, size: number, spread: number): string {
    let shown = '';
    let before = 0;
    for (let i = 0; i < text.length; i += 1) {
      const code = text.codePointAt(i) ?? 0;
      if (code > 0xffff) i += 1;
      const kern = before === 0 ? 0 : face.kern(before, code);
      if (kern !== 0) shown += `> ${rounded(-kern)} <`;
      shown += this.#glyph(face.name, font, code);
      before = code;
    }
    const spaced = spread === 0 ? ['', ''] : [`${rounded(spread)} Tc `, ' 0 Tc'];
    // The page counts downwards, letters stand upwards: hence the -1.
    return `BT /${font.id} ${rounded(size)} Tf ${spaced[0]}1 0 0 -1 ${rounded(x)} ${rounded(y)} Tm [<${shown}>] TJ${spaced[1]} ET\n`;
  }

  /** A letter's number in the part of the font that is embedded. */
  #glyph(face: string, font: FontInside, code: number): string {
    let glyphs = this.#glyphs.get(face);
    if (glyphs === undefined) this.#glyphs.set(face, (glyphs = new Map()));
    let glyph = glyphs.get(code);
    if (glyph === undefined) glyphs.set(code, (glyph = font.encode(String.fromCodePoint(code))[0].join('')));
    return glyph;
  }

  line(x1: number, y1: number, x2: number, y2: number, stroke: Stroke): void {
    if (stroke.opacity === undefined && stroke.dash === undefined) {
      this.#pending += `q ${rounded(stroke.width)} w ${rgb(stroke.color)} RG ${rounded(x1)} ${rounded(y1)} m ${rounded(x2)} ${rounded(y2)} l S Q\n`;
    } else {
      this.#stroked(stroke, () => this.#pdf.moveTo(x1, y1).lineTo(x2, y2).stroke(stroke.color));
    }
  }

  rect(x: number, y: number, w: number, h: number, look: { fill?: string; stroke?: Stroke; opacity?: number; radius?: number }): void {
    const { fill, stroke, radius = 0 } = look;
    const outline = (): PDFKit.PDFDocument => (radius > 0 ? this.#pdf.roundedRect(x, y, w, h, radius) : this.#pdf.rect(x, y, w, h));
    if (fill !== undefined) {
      this.#pdf.save();
      if (look.opacity !== undefined) this.#pdf.fillOpacity(look.opacity);
      outline().fill(fill);
      this.#pdf.restore();
      this.#color = '';
    }
    if (stroke !== undefined) this.#stroked(stroke, () => outline().stroke(stroke.color));
  }

  path(d: string, x: number, y: number, look: { fill?: string; stroke?: Stroke; holes?: boolean }): void {
    this.#pdf.save().translate(x, y);
    const { fill, stroke } = look;
    if (fill !== undefined) this.#pdf.path(d).fill(fill, look.holes === true ? 'even-odd' : 'non-zero');
    if (stroke !== undefined) this.#stroked(stroke, () => this.#pdf.path(d).stroke(stroke.color));
    this.#pdf.restore();
    this.#color = '';
  }

  picture(bytes: Uint8Array, x: number, y: number, w: number, h: number): void {
    this.#pdf.image(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength), x, y, { width: w, height: h });
  }

  turned(degrees: number, x: number, y: number, draw: () => void): void {
    this.#pdf.save().rotate(degrees, { origin: [x, y] });
    this.#color = '';
    draw();
    this.#pdf.restore();
    this.#color = '';
  }

  bookmark(text: string): void {
    this.#doc.outline.addItem(text);
  }

  /** pdfkit, to draw with: what was written without it goes first. */
  get #pdf(): PDFKit.PDFDocument {
    this.#flush();
    return this.#doc;
  }

  /** Operators are gathered and handed over together; each call would cost a buffer of its own until the page is full. */
  #flush(): void {
    if (this.#pending === '') return;
    this.#doc.addContent(this.#pending.trimEnd());
    this.#pending = '';
  }

  get #inside(): DocumentInside {
    return insideOf(this.#doc);
  }

  #innermost(): Element {
    const element = this.#open.at(-1);
    if (element === undefined) throw new Error('no element is open');
    return element;
  }

  #fill(color: string): void {
    if (this.#color === color) return;
    this.#pdf.fillColor(color);
    this.#color = color;
  }

  /** Makes a font the current one and one that the page names. */
  #font(name: string): FontInside {
    if (!this.#registered.has(name)) {
      // pdfkit takes a font that is already open, which its types do not say.
      this.#doc.registerFont(name, this.faces.face(name).forPdf() as unknown as Uint8Array<ArrayBuffer>);
      this.#registered.add(name);
    }
    this.#doc.font(name);
    const { _font: font, page } = this.#inside;
    if (page !== null) page.fonts[font.id] ??= font.ref();
    return font;
  }

  #stroked(stroke: Stroke, draw: () => void): void {
    this.#pdf.save().lineWidth(stroke.width);
    if (stroke.dash !== undefined) this.#pdf.dash(stroke.dash[0], { space: stroke.dash[1] });
    if (stroke.opacity !== undefined) this.#pdf.strokeOpacity(stroke.opacity);
    draw();
    this.#pdf.restore();
  }
}
