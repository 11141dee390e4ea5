import type { LabelSubject } from '../src/server/documents/label.model.js';

/** Cans filled at Fernhollow Works. */
export const filledLot: LabelSubject = {
  plantName: 'Fernhollow Works',
  demo: false,
  printedOn: '2026-11-25',
  item: {
    code: 'WAX-250',
    name: 'Chain wax, can 250 g',
    gtin: '09506000013435',
    hazard: 'Contains solvent: flammable, see the safety data sheet',
    storage: null,
  },
  lot: 'F26-00012',
  makersLot: true,
  serial: null,
  quantity: '4 800 pieces',
  supplier: null,
  came: { how: 'made', on: '2026-11-20' },
  expiresOn: '2028-11-20',
};

/** Wax base, received; a raw material has no GTIN. */
export const receivedLot: LabelSubject = {
  ...filledLot,
  item: { code: 'WAX-BASE', name: 'Wax base, refined', gtin: null, hazard: null, storage: 'Keep dry, below 25 °C' },
  lot: 'R26-00417',
  makersLot: false,
  quantity: '1 250.5 kg',
  supplier: { name: 'Quillmere Waxes', lot: 'QW-22913/A' },
  came: { how: 'received', on: '2026-11-25' },
  expiresOn: null,
};

/** A track pump with a serial number of its own. */
export const builtUnit: LabelSubject = {
  ...filledLot,
  demo: true,
  item: { code: 'PUMP', name: 'Track pump', gtin: '09506000013459', hazard: null, storage: null },
  lot: 'A26-00003',
  serial: 'K-02291',
  quantity: null,
  expiresOn: null,
};
