import { createRequire } from 'node:module';
import { openSync, type Font } from 'fontkit';
import { Face } from './face.js';

/** The weights the documents are set in. */
export type Weight = 'regular' | 'semibold' | 'bold';

/** A stretch of text that one face can set; `width` is in thousandths of the type size. */
interface FaceRun {
  readonly face: string;
  readonly text: string;
  readonly width: number;
}

const FILES: Readonly<Record<Weight, readonly [main: string, fallback: string]>> = {
  regular: ['400Regular/AtkinsonHyperlegibleNext_400Regular.ttf', 'DejaVuSans.ttf'],
  semibold: ['600SemiBold/AtkinsonHyperlegibleNext_600SemiBold.ttf', 'DejaVuSans-Bold.ttf'],
  bold: ['700Bold/AtkinsonHyperlegibleNext_700Bold.ttf', 'DejaVuSans-Bold.ttf'],
};

const MAIN = '@expo-google-fonts/atkinson-hyperlegible-next';
const FALLBACK = 'dejavu-fonts-ttf/ttf';
const PRINTABLE_ASCII = /^[ -~]*$/u;
const NO_LETTER = /[\p{Cc}\p{Cs}\u2028\u2029]/u;
const resolve = createRequire(import.meta.url).resolve;
const fonts = new Map<string, Font>();

/** Fonts are parsed once a process; parsing one takes longer than setting a page. */
function openFont(path: string): Font {
  let font = fonts.get(path);
  if (font === undefined) {
    const opened = openSync(resolve(path));
    if (!('layout' in opened)) throw new Error(`${path} is a collection of fonts, not one font`);
    fonts.set(path, (font = opened));
  }
  return font;
}

/**
 * The faces of a document: Atkinson Hyperlegible Next, whose 0 and O, 1 and l cannot be confused, and DejaVu Sans for letters that it
 * lacks. A letter that neither has is written out as its number, as in `[U+6F22]`: text may look odd, but it is never lost.
 */
export class Faces {
  readonly #faces = new Map<string, Face>();

  /** The face by the name a run carries. */
  face(name: string): Face {
    const face = this.#faces.get(name);
    if (face === undefined) throw new Error(`no face ${name}`);
    return face;
  }

  /** Cuts one line of text into runs, each in the first face that has its letters. */
  runs(text: string, weight: Weight): FaceRun[] {
    const main = this.#main(weight);
    if (PRINTABLE_ASCII.test(text)) return text === '' ? [] : [{ face: main.name, text, width: main.width(text) }];
    const runs: { face: Face; text: string }[] = [];
    for (const letter of text.normalize('NFC')) {
      const { face, shown } = this.#faceOf(letter, main, weight);
      const last = runs.at(-1);
      if (last?.face === face) last.text += shown;
      else runs.push({ face, text: shown });
    }
    return runs.map((run) => ({ face: run.face.name, text: run.text, width: run.face.width(run.text) }));
  }

  /** Width of one line of text, in points. */
  width(text: string, weight: Weight, size: number): number {
    if (PRINTABLE_ASCII.test(text)) return (this.#main(weight).width(text) * size) / 1000;
    let thousandths = 0;
    for (const run of this.runs(text, weight)) thousandths += run.width;
    return (thousandths * size) / 1000;
  }

  #faceOf(letter: string, main: Face, weight: Weight): { face: Face; shown: string } {
    const code = letter.codePointAt(0) ?? 0;
    if (!NO_LETTER.test(letter)) {
      if (main.has(code)) return { face: main, shown: letter };
      const fallback = this.#opened(`fallback-${weight}`, `${FALLBACK}/${FILES[weight][1]}`);
      if (fallback.has(code)) return { face: fallback, shown: letter };
    }
    return { face: main, shown: `[U+${code.toString(16).toUpperCase().padStart(4, '0')}]` };
  }

  #main(weight: Weight): Face {
    return this.#opened(weight, `${MAIN}/${FILES[weight][0]}`);
  }

  #opened(name: string, path: string): Face {
    let face = this.#faces.get(name);
    if (face === undefined) this.#faces.set(name, (face = new Face(name, openFont(path))));
    return face;
  }
}
