import { describe, expect, it } from 'vitest';
import { USUAL_SAMPLING } from './plan-draft.js';
import { previewOf } from './plan-preview.js';

describe('what a plan would take', () => {
  // ISO 2859-1:1999, Table 2-A, letter J: 80 items; AQL 1.0 accepts up to 2, AQL 4.0 up to 7.
  it('is told for a single plan with both classes', () => {
    expect(previewOf(USUAL_SAMPLING, 1200)).toEqual({
      lotSize: 1200,
      codeLetter: 'J',
      take: '80',
      classes: [
        { class: 'major', aql: '1.0', numbers: '2 / 3' },
        { class: 'minor', aql: '4.0', numbers: '7 / 8' },
      ],
      because: [],
    });
  });

  it('says why every item of a small lot is inspected', () => {
    const preview = previewOf({ ...USUAL_SAMPLING, aql: { major: '0.65', minor: '' } }, 15);
    expect(preview?.take).toBe('all 15');
    expect(preview?.because.length).toBeGreaterThan(0);
  });

  it('is nothing without an AQL', () => {
    expect(previewOf({ ...USUAL_SAMPLING, aql: { major: '', minor: '' } }, 1200)).toBeNull();
  });
});
