import type { Weight } from './faces.js';

/** What a screen reader is told a stretch of the page is. */
export type Tag =
  | 'Document'
  | 'H1'
  | 'H2'
  | 'H3'
  | 'P'
  | 'L'
  | 'LI'
  | 'LBody'
  | 'Table'
  | 'TR'
  | 'TH'
  | 'TD'
  | 'Figure'
  | 'TOC'
  | 'TOCI'
  | 'Note';

export interface TagOptions {
  /** A figure in words. */
  readonly alt?: string;
  /** What a table lists. */
  readonly summary?: string;
  /** What a head cell is the head of. */
  readonly scope?: 'Row' | 'Column';
  /** How many columns a cell spans. */
  readonly span?: number;
}

export interface Stroke {
  readonly color: string;
  readonly width: number;
  readonly dash?: readonly [on: number, off: number];
  readonly opacity?: number;
}

/**
 * What the setter draws on. The same setter runs twice: once on a canvas that draws nothing, which tells how many pages there are and
 * where each heading falls, and once in ink. No page has to be kept in memory until the count is known.
 * Lengths are points from the top left of the page.
 */
export interface Canvas {
  page(): void;
  /** Begins an element for screen readers; elements nest. */
  open(tag: Tag, options?: TagOptions): void;
  close(): void;
  /** What is drawn inside belongs to the innermost open element. */
  content(draw: () => void): void;
  /** What is drawn inside is decoration: rules, repeated heads, page numbers. A screen reader passes over it. */
  artifact(draw: () => void): void;
  /** One line of text; `y` is its baseline, `spread` is added after each letter. */
  text(text: string, x: number, y: number, weight: Weight, size: number, color: string, spread?: number): void;
  line(x1: number, y1: number, x2: number, y2: number, stroke: Stroke): void;
  rect(x: number, y: number, w: number, h: number, look: { fill?: string; stroke?: Stroke; opacity?: number; radius?: number }): void;
  /** A path in SVG notation, shifted by (x, y). With `holes`, what lies inside an even number of its outlines is left out. */
  path(d: string, x: number, y: number, look: { fill?: string; stroke?: Stroke; holes?: boolean }): void;
  /** A JPEG or plain PNG, held upright, filling the rectangle. */
  picture(bytes: Uint8Array, x: number, y: number, w: number, h: number): void;
  turned(degrees: number, x: number, y: number, draw: () => void): void;
  /** An entry of the reader's outline, for the place reached. */
  bookmark(text: string): void;
}

/** The canvas of the first pass. */
export class BlankCanvas implements Canvas {
  page(): void {}
  open(): void {}
  close(): void {}
  content(draw: () => void): void {
    draw();
  }
  artifact(draw: () => void): void {
    draw();
  }
  text(): void {}
  line(): void {}
  rect(): void {}
  path(): void {}
  picture(): void {}
  turned(_degrees: number, _x: number, _y: number, draw: () => void): void {
    draw();
  }
  bookmark(): void {}
}
