/**
 * A sheet: what a printed document says, in order, with no idea of how it is printed. Sections build sheets out of plain
 * records, and one folder (`pdf/`) knows how to set them; a second kind of paper would need only a second such folder.
 * Lengths are points (1/72 inch) and are measured from the top left.
 */
export interface Sheet {
  /** Shown by the reader's window and read first by a screen reader. */
  readonly title: string;
  /** The reference that every page repeats at its head, such as a recall number. */
  readonly reference: string;
  /** One line that every page repeats at its foot: which state of the record this is. */
  readonly proof: string;
  /** A stamp that every page carries, such as DRILL. */
  readonly pageStamp: Stamp | null;
  /** The instant the document counts as made at, UTC ISO 8601; equal sheets give equal bytes. */
  readonly madeAt: string;
  readonly author: string;
  readonly blocks: readonly Block[];
}

export type Block =
  | TitleBlock
  | HeadingBlock
  | ParagraphBlock
  | ListBlock
  | FactsBlock
  | TableBlock
  | FigureBlock
  | PhotographsBlock
  | CautionBlock
  | ContentsBlock;

/** Meaning, not colour: the setter chooses the ink. */
export type Tone = 'ink' | 'quiet' | 'accent' | 'river' | 'riverWash' | 'accentWash' | 'ghost' | 'rule' | 'ruleStrong' | 'paper';

/** Shape, word and colour say the same thing, so a stamp survives a grey printer and colour blindness. */
export interface Stamp {
  readonly word: string;
  readonly look: 'released' | 'quarantine' | 'held' | 'refused' | 'muted' | 'drill' | 'open';
}

export interface TitleBlock {
  readonly kind: 'title';
  readonly crumb: string;
  readonly code: string;
  readonly title: string;
  readonly stamps: readonly Stamp[];
  /** The few numbers the reader came for. */
  readonly numbers: readonly { readonly label: string; readonly value: string; readonly accent?: boolean }[];
}

export interface HeadingBlock {
  readonly kind: 'heading';
  readonly level: 2 | 3;
  readonly text: string;
  readonly note?: string;
}

export interface ParagraphBlock {
  readonly kind: 'paragraph';
  readonly text: string;
  readonly quiet?: boolean;
}

export interface ListBlock {
  readonly kind: 'list';
  readonly items: readonly string[];
}

export interface FactsBlock {
  readonly kind: 'facts';
  readonly facts: readonly { readonly label: string; readonly value: Cell }[];
}

/** A part of a cell; every part begins on a line of its own. */
export interface CellPart {
  readonly text: string;
  readonly look?: 'plain' | 'code' | 'quiet' | 'accent';
  readonly stamp?: Stamp;
}
export type Cell = string | readonly CellPart[];

export interface Column {
  readonly head: string;
  /** The column's share of the table's width, relative to its neighbours. */
  readonly share: number;
  readonly align?: 'left' | 'right';
}

export type Row =
  | { readonly kind: 'row'; readonly cells: readonly Cell[] }
  /** Names what the rows below it belong to; said again, as continued, where a page begins within them. */
  | { readonly kind: 'group'; readonly title: readonly CellPart[]; readonly amount: string; readonly again: string }
  | { readonly kind: 'total'; readonly cells: readonly Cell[] };

export interface TableBlock {
  readonly kind: 'table';
  /** Read out by a screen reader before the table; not printed. */
  readonly summary: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** Said in place of a table that has no rows. */
  readonly empty: string;
}

export interface FigureBlock {
  readonly kind: 'figure';
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly Shape[];
  /** The figure in words, for those who cannot see it. */
  readonly alt: string;
  readonly caption?: string;
}

/** Photographs, two in a row; one by itself is set larger. None is made larger than it is. */
export interface PhotographsBlock {
  readonly kind: 'photographs';
  readonly photographs: readonly Photograph[];
}

export interface Photograph {
  /** Pixels, held upright. */
  readonly width: number;
  readonly height: number;
  /** The photograph in words, for those who cannot see it. */
  readonly alt: string;
  readonly caption: string;
  /** Small print below the caption, such as the hash of its content. */
  readonly note: string;
  /** JPEG, or PNG without transparency. Read when its page is printed, so that no more than one need be in memory. */
  read(): Promise<Uint8Array>;
}

export type Shape =
  | { kind: 'rect'; x: number; y: number; w: number; h: number; fill?: Tone; stroke?: Tone; dashed?: boolean; opacity?: number }
  /** A stroked path in SVG notation: one band of a river. */
  | { kind: 'band'; d: string; width: number; tone: Tone; opacity: number }
  | { kind: 'line'; x1: number; y1: number; x2: number; y2: number; tone: Tone; width: number }
  | LabelShape;

export interface LabelShape {
  readonly kind: 'label';
  readonly x: number;
  /** Of the baseline. */
  readonly y: number;
  readonly text: string;
  readonly size: number;
  readonly tone: Tone;
  readonly strong?: boolean;
  readonly align?: 'left' | 'right' | 'center';
  /** Longer text is cut and ends in an ellipsis; nothing is drawn where not even two letters fit. */
  readonly maxWidth?: number;
  /** Lays paper under the letters, for labels that stand on bands. */
  readonly onPaper?: boolean;
}

export interface CautionBlock {
  readonly kind: 'caution';
  readonly title: string;
  readonly lines: readonly string[];
}

/** The list of the sheet's level-2 headings with their pages. */
interface ContentsBlock {
  readonly kind: 'contents';
}

/** How wide the setter's page body is; figures are laid out to it. */
export const BODY_WIDTH = 503;
