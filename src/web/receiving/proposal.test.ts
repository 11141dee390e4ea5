import { describe, expect, it } from 'vitest';
import { readScan } from '../../../shared/scan/read-scan.js';
import { type Draft, EMPTY_DRAFT } from './draft.js';
import { type Catalogue, hear, proposalOf } from './proposal.js';

const CATALOGUE: Catalogue = {
  items: [
    { code: 'WAX-BASE', name: 'Paraffin wax base', unit: 'kg', tracking: 'bulk', gtin: '09506000135014' },
    { code: 'GAUGE', name: 'Pressure gauge', unit: 'each', tracking: 'serial', gtin: '09506000135045' },
  ],
  suppliers: [{ code: 'S-LARK', name: 'Larkbridge Waxes' }],
  locations: [{ code: 'DOCK', name: 'Receiving dock' }],
};
const TODAY = '2026-03-02';
const WAX = '(01)09506000135014(17)270601(3100)000025(10)LW-6355';

function scanned(...codes: string[]): { draft: Draft; does: string[]; cautions: string[] } {
  const said = { draft: EMPTY_DRAFT, does: [] as string[], cautions: [] as string[] };
  for (const code of codes) {
    const proposal = proposalOf(readScan(code, TODAY), said.draft, CATALOGUE);
    if (proposal === null) continue;
    said.draft = proposal.draft;
    said.does.push(proposal.does);
    said.cautions.push(...proposal.cautions);
  }
  return said;
}

describe('what a scan means at the dock', () => {
  it('fills item, supplier’s lot, expiry and quantity from an element string', () => {
    const { draft, does } = scanned(WAX);
    expect(draft.lines).toEqual([
      { item: 'WAX-BASE', supplierLot: 'LW-6355', quantity: '25', expiresOn: '2027-06-01', madeOn: '', containers: '', serials: '' },
    ]);
    expect(does).toEqual(['Line 1: WAX-BASE, Paraffin wax base']);
  });

  it('counts the same label again as another container of the same line', () => {
    const { draft, does } = scanned(WAX, WAX, WAX);
    expect(draft.lines.map(({ quantity, containers }) => [quantity, containers])).toEqual([['75', '3']]);
    expect(does[2]).toBe('Another container of line 1: then 75 in 3 containers');
  });

  it('keeps labels of one supplier’s lot apart that say other dates, and says so', () => {
    const { draft, cautions } = scanned(WAX, WAX.replace('270601', '270701'), WAX.replace('(17)270601', ''));
    expect(draft.lines.map(({ expiresOn, quantity }) => [expiresOn, quantity])).toEqual([
      ['2027-06-01', '50'],
      ['2027-07-01', '25'],
    ]);
    expect(cautions).toEqual(['line 1 is the same supplier’s lot with other dates: compare the labels']);
  });

  it('says where another container states no quantity, so that the sum is not taken for all', () => {
    const { draft, cautions } = scanned(WAX, WAX.replace('(3100)000025', ''));
    expect(draft.lines).toMatchObject([{ quantity: '25', containers: '2' }]);
    expect(cautions).toEqual(['the label states no quantity: add to that of line 1 by hand']);
  });

  it('never puts two supplier’s lots on one line (R-2)', () => {
    const { draft } = scanned(WAX, WAX.replace('LW-6355', 'LW-6356'));
    expect(draft.lines.map(({ supplierLot }) => supplierLot)).toEqual(['LW-6355', 'LW-6356']);
  });

  it('takes plain codes for supplier, location, item and supplier’s lot, in that order', () => {
    const { draft, does } = scanned('S-LARK', 'DOCK', 'WAX-BASE', 'lw/77-A');
    expect([draft.supplier, draft.location, draft.lines[0]?.item, draft.lines[0]?.supplierLot]).toEqual([
      'S-LARK',
      'DOCK',
      'WAX-BASE',
      'lw/77-A',
    ]);
    expect(does.at(-1)).toBe('Supplier’s lot of line 1: lw/77-A');
  });

  it('counts serials, each once', () => {
    const { draft } = scanned('GAUGE', 'LOT-9', 'G-0001', 'G-0002', 'G-0001');
    expect(draft.lines).toMatchObject([{ supplierLot: 'LOT-9', serials: 'G-0001\nG-0002', quantity: '2' }]);
  });

  it('leaves the quantity open when the label counts in another unit, and says so', () => {
    const { draft, cautions } = scanned('(01)09506000135014(30)12(10)LW-1');
    expect(draft.lines[0]?.quantity).toBe('');
    expect(cautions.join()).toContain('type the quantity');
  });

  it('leaves the item open when the catalogue does not know the GTIN, and says so', () => {
    const { draft, cautions } = scanned('(01)09506000134352(10)LW-1');
    expect(draft.lines).toMatchObject([{ item: '', supplierLot: 'LW-1' }]);
    expect(cautions.join()).toContain('no item of the catalogue has GTIN 09506000134352');
  });

  it('does nothing with a label that is wrong', () => {
    expect(scanned('(01)09506000135015(10)LW-1').draft).toEqual(EMPTY_DRAFT);
  });

  it('counts labels with a serial as pieces, not as containers', () => {
    const gauge = (serial: string): string => `(01)09506000135045(10)GB-7(21)${serial}`;
    const { draft, does } = scanned(gauge('G-1'), gauge('G-2'));
    expect(draft.lines).toMatchObject([{ supplierLot: 'GB-7', serials: 'G-1\nG-2', quantity: '2', containers: '' }]);
    expect(does[1]).toBe('Serial G-2 on line 1: then 2 pieces');
  });

  it('takes each scan by the next one, and passes over one that is wrong', () => {
    const scans = [WAX, '(01)09506000135015', WAX.replace('LW-6355', 'LW-6356')].map((code) => readScan(code, TODAY));
    const { draft, proposal } = hear(scans, { draft: EMPTY_DRAFT, proposal: null }, CATALOGUE);
    expect(draft.lines.map(({ supplierLot }) => supplierLot)).toEqual(['LW-6355']);
    expect(proposal?.draft.lines.map(({ supplierLot }) => supplierLot)).toEqual(['LW-6355', 'LW-6356']);
  });
});
