/**
 * A decimal comma made the point that is sent: `12,5` is `12.5`. A comma before exactly three digits may as well part thousands, and is
 * left for the person to say, unless a nought stands before it. Anything else is left as it is.
 */
export function withPoint(text: string): string {
  const typed = text.trim();
  const plain = /^-?(?:\d+,(?:\d{1,2}|\d{4,6})|0,\d{3})$/.test(typed);
  return plain ? typed.replace(',', '.') : text;
}
