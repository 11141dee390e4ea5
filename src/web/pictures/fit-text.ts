/** Fonts of pictures, as the canvas that measures names them; the same are in their style sheets. */
export const CODE_FONT = "650 13.5px 'Atkinson Hyperlegible Mono Variable', ui-monospace, monospace";
export const NAME_FONT = "650 13px 'Atkinson Hyperlegible Next Variable', system-ui, sans-serif";
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

/** Wider than the mean of any word in these faces: what is shorter than so many characters surely fits. */
const WIDEST_MEAN = 10;

/** The text, or as much of its beginning as fits with its end marked; nothing when not even two characters do. */
export function fitText(text: string, room: number, font: string): string {
  if (text.length * WIDEST_MEAN <= room) return text;
  const whole = widthOf(text, font);
  if (whole <= room) return text;
  const cut = (characters: number): string => `${text.slice(0, characters).trimEnd()}…`;
  // The mean character says nearly where the end is; from there it is a step or two.
  let fits = Math.min(text.length - 1, Math.floor((room / whole) * text.length));
  while (fits > 0 && widthOf(cut(fits), font) > room) fits -= 1;
  while (fits < text.length - 1 && widthOf(cut(fits + 1), font) <= room) fits += 1;
  return fits < 2 ? '' : cut(fits);
}
