/** Fonts of pictures, as the canvas that measures names them; the same are in their style sheets. */
export const CODE_FONT = "650 13.5px 'Atkinson Hyperlegible Mono Variable', ui-monospace, monospace";
export const TEXT_FONT = "13px 'Atkinson Hyperlegible Next Variable', system-ui, sans-serif";

let pen: CanvasRenderingContext2D | null | undefined;
const widths = new Map<string, number>();

function widthOf(text: string, font: string): number {
  pen ??= document.createElement('canvas').getContext('2d');
  if (!pen) return text.length * 8;
  const key = `${font}\n${text}`;
  const known = widths.get(key);
  if (known !== undefined) return known;
  pen.font = font;
  const { width } = pen.measureText(text);
  widths.set(key, width);
  return width;
}

/** Forgets what was measured: a font has come that was not there. */
export const measureAnew = (): void => widths.clear();

/** The text, or as much of its beginning as fits with its end marked; nothing when not even two characters do. */
export function fitText(text: string, room: number, font: string): string {
  if (widthOf(text, font) <= room) return text;
  let [fits, tooMany] = [0, text.length];
  while (tooMany - fits > 1) {
    const middle = (fits + tooMany) >> 1;
    if (widthOf(`${text.slice(0, middle).trimEnd()}…`, font) <= room) fits = middle;
    else tooMany = middle;
  }
  return fits < 2 ? '' : `${text.slice(0, fits).trimEnd()}…`;
}
