import { describe, expect, it } from 'vitest';
import {
  alsoOnLast,
  bodyOf,
  changeItem,
  conforming,
  countsOf,
  countsOfSent,
  type Finding,
  findingsOf,
  itemWith,
  type Marks,
  undo,
} from './tally-state.js';

const finding = (defect: string, of: Finding['class']): Finding => ({ defect, characteristic: null, says: defect, class: of });
const DENT = finding('D-DENT', 'minor');
const LEAK = finding('D-LEAK', 'major');

describe('a tally before it is written down', () => {
  const marks: Marks = alsoOnLast(itemWith(conforming(conforming([], 1), 20), DENT, 7), LEAK);

  it('counts an item in its worst class, and nonconformities one by one', () => {
    expect(countsOf(marks, 'items')).toEqual({
      looked: 22,
      conforming: 21,
      nonconforming: 1,
      byClass: { critical: 0, major: 1, minor: 0 },
    });
    expect(countsOf(marks, 'nonconformities').byClass).toEqual({ critical: 0, major: 1, minor: 1 });
  });

  it('undoes one press at a time', () => {
    expect(countsOf(undo(marks), 'items').byClass).toEqual({ critical: 0, major: 0, minor: 1 });
    expect(undo(undo(marks))).toEqual([{ conforming: 1 }, { conforming: 20 }]);
    expect(undo([])).toEqual([]);
  });

  it('is sent as counts and items, the same finding once with how often', () => {
    const noted = changeItem(alsoOnLast(marks, LEAK), 2, { note: 'at the hose' });
    expect(bodyOf(noted, 2)).toEqual({
      sample: 2,
      conforming: 21,
      items: [
        {
          piece: 7,
          note: 'at the hose',
          found: [
            { defect: 'D-DENT', class: 'minor', count: 1 },
            { defect: 'D-LEAK', class: 'major', count: 2 },
          ],
        },
      ],
    });
  });

  it('names photographs by their hash, on the item they were taken of', () => {
    const photograph = { sha256: 'a'.repeat(64), name: 'hose.jpg', mediaType: 'image/jpeg' as const, bytes: 3 };
    const later = changeItem(itemWith(marks, LEAK, 8), 2, { files: [photograph] });
    expect(bodyOf(later, 1).items?.map(({ piece, files }) => ({ piece, files }))).toEqual([
      { piece: 7, files: [photograph.sha256] },
      { piece: 8, files: undefined },
    ]);
    expect(changeItem(marks, 0, { files: [photograph] })).toEqual(marks);
  });

  it('comes to the same before it is sent and while it is kept', () => {
    for (const basis of ['items', 'nonconformities'] as const) {
      expect(countsOfSent([bodyOf(marks, 1), bodyOf([{ conforming: 3 }], 1)], basis)).toEqual(
        countsOf([...marks, { conforming: 3 }], basis),
      );
    }
  });

  it('offers what the plan looks at before the rest, worst first, in the worse of two classes', () => {
    const attribute = { kind: 'attribute', code: 'TIGHT', name: 'No leak', class: 'minor', defect: 'D-LEAK' };
    const defects = [
      { code: 'D-DENT', name: 'Dented', severity: 'minor' },
      { code: 'D-LABEL', name: 'Label crooked', severity: 'major' },
      { code: 'D-LEAK', name: 'Leaks', severity: 'major' },
    ];
    const found = findingsOf({ characteristics: [attribute] } as never, defects as never);
    expect(found.map((one) => [one.characteristic, one.defect, one.class])).toEqual([
      ['TIGHT', 'D-LEAK', 'major'],
      [null, 'D-LABEL', 'major'],
      [null, 'D-DENT', 'minor'],
    ]);
  });
});
