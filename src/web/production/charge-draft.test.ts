import { expect, it } from 'vitest';
import { instantOfLocal } from '../app/clock.js';
import { draftOfKept } from './charge-draft.js';

const chargedAt = '2026-03-02T10:15:39.000Z';

it('puts a charge that was kept and refused back into the form, with the time at which it was done', () => {
  const back = draftOfKept({ charges: [{ lot: 'R26-00056', quantity: '1.95', step: 5, chargedAt }] });
  expect(back?.asked).toEqual({ text: 'R26-00056' });
  expect(back?.fields).toMatchObject({ quantity: '1.95', step: '5' });
  expect(instantOfLocal(back?.fields['chargedAt'] ?? '')).toBe(chargedAt);
});

it('leaves serials to be scanned again', () => {
  expect(draftOfKept({ charges: [{ item: 'GAUGE', serials: ['G-1'], intoPieces: '1', chargedAt }] })).toBeNull();
});
