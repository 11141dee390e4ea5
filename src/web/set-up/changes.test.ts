import { describe, expect, it } from 'vitest';
import { changeInWords, changesBetween } from './changes.js';

const told = (words: Readonly<Record<string, string>>) => Object.entries(words).map(([label, text]) => ({ label, text }));

describe('what changed between revisions', () => {
  it('is what reads otherwise, what is new, and last what was taken out', () => {
    const before = told({ Name: 'Wax', Hazard: '', 'Step 1': '240 kg of WAX', 'Step 2': '3 kg of DYE' });
    const after = told({ Name: 'Chain wax', Hazard: 'flammable', 'Step 1': '240 kg of WAX' });
    expect(changesBetween(before, after).map(changeInWords)).toEqual([
      'Name: Chain wax, was Wax',
      'Hazard: flammable, new',
      'Step 2: 3 kg of DYE, taken out',
    ]);
  });

  it('is nothing where both say the same, or neither says anything', () => {
    expect(changesBetween(told({ Name: 'Wax', GTIN: '' }), told({ Name: 'Wax' }))).toEqual([]);
  });
});
