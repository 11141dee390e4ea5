import { setValue } from '../design/set-value.js';

/** Characters of a scan come faster than any person types. */
const LONGEST_GAP_MS = 35;
const SHORTEST_SCAN = 4;
const GROUP_SEPARATOR = '\u001d';
/** Keys held down with others; a scanner's GS arrives as Ctrl and ]. */
const HELD = ['Shift', 'Control', 'Alt', 'AltGraph', 'Meta', 'CapsLock'];

type Typed = HTMLInputElement | HTMLTextAreaElement;

/**
 * Hears a hand scanner, which types like a keyboard: a burst of characters ended by Enter or Tab, wherever the focus is. What the burst
 * left in a text field is taken out again.
 * @returns a function that stops listening
 */
export function hearScanner(target: Window, onScan: (code: string) => void): () => void {
  let burst = '';
  let last = -Infinity;
  let field: Typed | null = null;
  let before = '';

  function begin(event: KeyboardEvent): void {
    burst = '';
    field = event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement ? event.target : null;
    before = field?.value ?? '';
  }
  function end(event: KeyboardEvent): void {
    event.preventDefault();
    event.stopPropagation();
    const code = burst;
    last = -Infinity; // what comes next, however soon, is another scan: perhaps in another field
    if (field) setValue(field, before);
    onScan(code);
  }
  function hear(event: KeyboardEvent): void {
    if (event.isComposing || !event.isTrusted) return; // a key that the page itself pressed, to close a list, is no part of a scan
    if (event.timeStamp - last > LONGEST_GAP_MS) begin(event);
    last = event.timeStamp;
    if ((event.key === 'Enter' || event.key === 'Tab') && burst.length >= SHORTEST_SCAN) return end(event);
    if (event.ctrlKey && (event.key === ']' || event.code === 'BracketRight')) {
      burst += GROUP_SEPARATOR;
      event.preventDefault();
    } else if (event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) {
      burst += event.key;
    } else if (!HELD.includes(event.key)) {
      burst = '';
    }
  }
  target.addEventListener('keydown', hear, true);
  return () => target.removeEventListener('keydown', hear, true);
}
