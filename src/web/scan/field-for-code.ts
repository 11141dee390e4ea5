import type { Scan } from '../../../shared/scan/scan.js';
import { setValue } from '../design/set-value.js';

/** The code that a scan puts into a field for codes: of a label with several elements the one that names a thing most closely. */
export function codeOf(scan: Scan, text: string): string {
  return scan.kind === 'gs1' ? (scan.serial ?? scan.lot ?? scan.item ?? text.trim()) : text.trim();
}

/** Puts a scan into the field that the cursor is in, where that is one for codes. @returns whether it did */
export function fillField(scan: Scan, text: string): boolean {
  const field = document.activeElement;
  if (!(field instanceof HTMLInputElement) || !field.matches('form input.code:not([readonly])') || scan.kind === 'faulty') return false;
  setValue(field, codeOf(scan, text));
  if (field.role === 'combobox') requestAnimationFrame(() => closeList(field));
  return true;
}

/** What was scanned needs no list to choose from, which would lie over the rest of the page. */
const closeList = (field: HTMLElement): boolean => field.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape', bubbles: true }));
