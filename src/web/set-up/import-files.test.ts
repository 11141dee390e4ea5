import { describe, expect, it } from 'vitest';
import { chosenWith, markOf, writtenSize } from './import-files.js';

const NONE = { files: new Map(), strangers: [] };
const file = (name: string, text: string): File => new File([text], name, { lastModified: 1 });

describe('files chosen for an import', () => {
  it('are sorted by name; what has none of the five names is told', () => {
    const chosen = chosenWith(NONE, [file('lots.csv', 'a'), file('item.csv', 'b')]);
    expect([...chosen.files.keys()]).toEqual(['lots.csv']);
    expect(chosen.strangers).toEqual(['item.csv']);
  });

  it('are other files once one of them was chosen anew', () => {
    const first = chosenWith(NONE, [file('lots.csv', 'a'), file('items.csv', 'b')]);
    expect(markOf(chosenWith(NONE, [file('items.csv', 'b'), file('lots.csv', 'a')]))).toBe(markOf(first));
    expect(markOf(chosenWith(first, [file('lots.csv', 'longer')]))).not.toBe(markOf(first));
  });

  it.each([
    [999, '999\u00a0B'],
    [12_345, '12.3\u00a0kB'],
    [1_073_741_824, '1.1\u00a0GB'],
  ])('%i bytes are %s', (bytes, written) => expect(writtenSize(bytes)).toBe(written));
});
