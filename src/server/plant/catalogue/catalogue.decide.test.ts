import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import type { Refusal } from '../../../../shared/refusal.js';
import { decideRevise } from './catalogue.decide.js';
import type { CatalogueState } from './catalogue-state.facts.js';
import type { Bom, Item, Recipe, Revised } from './catalogue.facts.js';

const WAX: Item = { code: 'WAX', name: 'Wax base', class: 'raw-material', unit: 'kg', tracking: 'bulk' };
const OIL: Item = { code: 'OIL', name: 'Carrier oil', class: 'raw-material', unit: 'L', tracking: 'bulk', densityMicro: 850_000 };
const MIX: Item = { code: 'MIX', name: 'Chain wax', class: 'mixture', unit: 'kg', tracking: 'bulk' };
const CAN: Item = { code: 'CAN', name: 'Can of wax', class: 'filled', unit: 'each', tracking: 'pieces', contentMicro: 250_000 };
const GAUGE: Item = { code: 'GAUGE', name: 'Gauge', class: 'component', unit: 'each', tracking: 'serial' };
const PUMP: Item = { code: 'PUMP', name: 'Track pump', class: 'assembled', unit: 'each', tracking: 'serial', serialPattern: 'K-{n:5}' };
const SEAL: Item = { code: 'SEAL', name: 'Seal', class: 'component', unit: 'each', tracking: 'bulk' };

const at1 = <T>(record: T): Revised<T> => ({ ...record, revision: 1 });
const RECIPE: Recipe = {
  code: 'RCP',
  name: 'Chain wax',
  item: 'MIX',
  batchMicro: 100 * MICRO,
  steps: [
    { item: 'WAX', targetMicro: 80 * MICRO, toleranceBp: 200, mixMinutes: 30 },
    { item: 'OIL', targetMicro: 20 * MICRO, toleranceBp: 200, mixMinutes: 10 },
  ],
  yieldBp: [9500, 10_200],
};
const BOM: Bom = {
  code: 'BOM',
  name: 'Pump',
  item: 'PUMP',
  lines: [
    { item: 'SEAL', perPieceMicro: 2 * MICRO, trackedBy: 'lot' },
    { item: 'GAUGE', perPieceMicro: MICRO, trackedBy: 'serial' },
  ],
};

const empty: CatalogueState = {
  current: undefined,
  placesOfCode: [],
  items: new Map([WAX, OIL, MIX, CAN, GAUGE, PUMP, SEAL].map((item) => [item.code, at1(item)])),
  defects: new Map(),
  recipes: [],
  boms: [],
  hasLots: false,
  gtinOf: null,
};

/** The reasons against it, as `code pointer`. */
function reasons(run: () => unknown): string[] {
  try {
    run();
    return [];
  } catch (error) {
    return (error as Refusal).reasons.map((reason) => [reason.code, reason['pointer']].filter(Boolean).join(' '));
  }
}
const item = (change: Partial<Item>, state: Partial<CatalogueState> = {}, from: Item = WAX): string[] =>
  reasons(() => decideRevise({ what: 'item', record: { ...from, ...change } }, { ...empty, ...state }));
const recipe = (change: Partial<Recipe>, state: Partial<CatalogueState> = {}): string[] =>
  reasons(() => decideRevise({ what: 'recipe', record: { ...RECIPE, ...change } }, { ...empty, ...state }));
const bom = (change: Partial<Bom>, state: Partial<CatalogueState> = {}): string[] =>
  reasons(() => decideRevise({ what: 'bom', record: { ...BOM, ...change } }, { ...empty, ...state }));
const revised = (change: Partial<Item>, state: Partial<CatalogueState> = {}, from: Item = WAX): string[] =>
  reasons(() =>
    decideRevise({ what: 'item', record: { ...from, ...change }, revision: 1, reason: 'why' }, { ...empty, current: at1(from), ...state }),
  );

describe('items (C-3, C-4)', () => {
  it.each([WAX, OIL, MIX, CAN, GAUGE, PUMP, SEAL])('$code is allowed', (one) => expect(item({}, {}, one)).toEqual([]));

  it.each<[string, Item, Partial<Item>, string[]]>([
    ['a mixture in pieces', MIX, { unit: 'each', tracking: 'pieces' }, ['unit-does-not-fit /unit', 'tracking-does-not-fit /tracking']],
    ['a mixture in metres', MIX, { unit: 'm' }, ['unit-does-not-fit /unit']],
    ['a filled item in bulk', CAN, { tracking: 'bulk' }, ['tracking-does-not-fit /tracking']],
    ['a filled item in kg', CAN, { unit: 'kg' }, ['unit-does-not-fit /unit']],
    ['an assembled item in bulk', PUMP, { tracking: 'bulk', serialPattern: undefined }, ['tracking-does-not-fit /tracking']],
    ['a component with serials in kg', GAUGE, { unit: 'kg' }, ['unit-does-not-fit /unit']],
    ['a density of something counted', SEAL, { densityMicro: MICRO }, ['no-density-here /density']],
    ['a density of nothing', OIL, { densityMicro: 0 }, ['density-impossible /density']],
    ['a density beyond any metal', OIL, { densityMicro: 850 * MICRO }, ['density-impossible /density']],
    ['a content of what is not filled', WAX, { contentMicro: MICRO }, ['no-content-here /content']],
    ['a content of nothing', CAN, { contentMicro: 0 }, ['not-positive /content']],
    ['a wrong check digit', CAN, { gtin: '09506000134353' }, ['gtin-wrong /gtin']],
    ['a GTIN that is none', CAN, { gtin: 'ABC' }, ['gtin-wrong /gtin']],
    ['serials of what has none', SEAL, { serialPattern: 'S-{n:4}' }, ['no-serials-here /serialPattern']],
    ['a pattern without a number', PUMP, { serialPattern: 'K-' }, ['pattern-wrong /serialPattern']],
    ['a pattern with two numbers', PUMP, { serialPattern: '{n:2}-{n:3}' }, ['pattern-wrong /serialPattern']],
    ['a pattern with a part nobody knows', PUMP, { serialPattern: 'K-{week}-{n:3}' }, ['pattern-wrong /serialPattern']],
  ])('refused: %s', (_what, from, change, expected) => expect(item(change, {}, from)).toEqual(expected));

  it('names the right check digit, and the item that has the GTIN (C-4, ID-9)', () => {
    const state = { ...empty, gtinOf: 'OTHER' };
    expect(() => decideRevise({ what: 'item', record: { ...CAN, gtin: '09506000134353' } }, state)).toThrow(
      /check digit would be 2; 09506000134353 is the GTIN of OTHER/,
    );
  });

  it('keeps class, unit and tracking once lots exist, and lets the rest change (C-5)', () => {
    const lots = { hasLots: true };
    expect(revised({ name: 'Another name', shelfLifeDays: 5 }, lots)).toEqual([]);
    expect(revised({ class: 'packaging', unit: 'each', tracking: 'pieces' }, lots)).toEqual([
      'lots-exist /class',
      'lots-exist /unit',
      'lots-exist /tracking',
    ]);
    expect(revised({ class: 'packaging', unit: 'each', tracking: 'pieces' })).toEqual([]);
  });

  it('does not take away what a recipe or a bill of materials rests on (C-5)', () => {
    const used = { recipes: [at1(RECIPE)], boms: [at1(BOM)] };
    expect(revised({ densityMicro: undefined }, used, OIL)).toEqual(['recipe-needs-mass /unit']);
    expect(revised({ unit: 'each' }, used)).toEqual(['recipe-needs-mass /unit']);
    expect(revised({ class: 'raw-material' }, used, MIX)).toEqual(['recipe-makes-it /class']);
    expect(revised({ tracking: 'bulk' }, used, GAUGE)).toEqual(['bom-needs-serials /tracking']);
  });
});

describe('revisions (C-1, C-2)', () => {
  it('counts from 1 and keeps the reason', () => {
    expect(decideRevise({ what: 'item', record: WAX }, empty)).toMatchObject({ revision: 1, record: WAX });
    const next = { what: 'item', record: { ...WAX, name: 'Base' }, revision: 4, reason: 'clearer' } as const;
    expect(decideRevise(next, { ...empty, current: { ...WAX, revision: 4 } })).toMatchObject({ revision: 5, reason: 'clearer' });
  });

  it.each<[string, { revision?: number; reason?: string; name?: string }, CatalogueState['current'], string[]]>([
    ['a new record under a code that is taken', { name: 'x' }, at1(WAX), ['code-taken /code']],
    ['a revision of nothing', { revision: 1, reason: 'why' }, undefined, ['item-unknown /code']],
    ['a revision of an older one', { revision: 1, reason: 'why', name: 'x' }, { ...WAX, revision: 2 }, ['revised-meanwhile /revision']],
    ['a revision without a reason', { revision: 1, name: 'x' }, at1(WAX), ['reason-missing /reason']],
    ['a revision that changes nothing', { revision: 1, reason: 'why' }, at1(WAX), ['nothing-changed']],
  ])('refused: %s', (_what, { revision, reason, name }, current, expected) => {
    const command = { what: 'item', record: { ...WAX, name: name ?? WAX.name }, revision, reason } as const;
    expect(reasons(() => decideRevise(command, { ...empty, current }))).toEqual(expected);
  });
});

describe('recipes (C-6, C-8)', () => {
  const step = (code: string) => ({ item: code, targetMicro: MICRO, toleranceBp: 0, mixMinutes: 0 });

  it('is allowed', () => expect(recipe({})).toEqual([]));
  it.each<[string, Partial<Recipe>, string[]]>([
    ['of an item nobody knows', { item: 'NONE' }, ['item-unknown /item']],
    ['of what is no mixture', { item: 'CAN' }, ['not-a-mixture /item']],
    ['of nothing', { batchMicro: 0 }, ['not-positive /batch']],
    ['with a yield upside down', { yieldBp: [9900, 9800] }, ['yield-reversed /yieldLowBp']],
    [
      'with steps of every fault',
      { steps: [step('NONE'), step('SEAL'), { ...step('WAX'), targetMicro: -1 }] },
      ['item-unknown /steps/0/item', 'no-mass /steps/1/item', 'not-positive /steps/2/target'],
    ],
    ['that holds itself', { steps: [step('WAX'), step('MIX')] }, ['made-of-itself /steps/1/item']],
  ])('refused: %s', (_what, change, expected) => expect(recipe(change)).toEqual(expected));

  it('refuses litres without a density', () => {
    const items = new Map(empty.items).set('OIL', at1({ ...OIL, densityMicro: undefined }));
    expect(recipe({}, { items })).toEqual(['no-mass /steps/1/item']);
  });

  it('refuses to hold itself by way of others, and says which way', () => {
    const half: Item = { ...MIX, code: 'HALF' };
    const state: CatalogueState = {
      ...empty,
      items: new Map(empty.items).set('HALF', at1(half)),
      recipes: [at1({ ...RECIPE, code: 'RCP-HALF', item: 'HALF', steps: [step('MIX')] })],
    };
    expect(() => decideRevise({ what: 'recipe', record: { ...RECIPE, steps: [step('HALF')] } }, state)).toThrow('MIX of HALF of MIX');
    // Its own earlier revision does not count: the new one takes its place.
    const earlier = { ...empty, current: at1(RECIPE), recipes: [at1({ ...RECIPE, steps: [step('HALF')] })] };
    const better = { what: 'recipe', record: { ...RECIPE, name: 'Better' }, revision: 1, reason: 'why' } as const;
    expect(reasons(() => decideRevise(better, earlier))).toEqual([]);
  });
});

describe('bills of materials (C-7, C-8)', () => {
  it('is allowed', () => expect(bom({})).toEqual([]));
  it.each<[string, Partial<Bom>, string[]]>([
    ['of a mixture', { item: 'MIX' }, ['not-built /item']],
    ['with half a seal', { lines: [{ item: 'SEAL', perPieceMicro: 500_000, trackedBy: 'lot' }] }, ['not-whole /lines/0/perPiece']],
    ['with none of it', { lines: [{ item: 'WAX', perPieceMicro: 0, trackedBy: 'lot' }] }, ['not-positive /lines/0/perPiece']],
    [
      'by serials that are not there',
      { lines: [{ item: 'SEAL', perPieceMicro: MICRO, trackedBy: 'serial' }] },
      ['not-serial /lines/0/trackedBy'],
    ],
    ['with one item twice', { lines: [BOM.lines[0]!, BOM.lines[0]!] }, ['item-twice /lines/1/item']],
    ['of itself', { lines: [{ item: 'PUMP', perPieceMicro: MICRO, trackedBy: 'serial' }] }, ['made-of-itself /lines/0/item']],
  ])('refused: %s', (_what, change, expected) => expect(bom(change)).toEqual(expected));
});

it('gives a place one code, whatever kind of place it is (C-9)', () => {
  const location = { what: 'location', record: { code: 'V-1', name: 'Shelf', use: 'stock' } } as const;
  expect(reasons(() => decideRevise(location, { ...empty, placesOfCode: ['vessel'] }))).toEqual(['code-clash /code']);
  const again = { ...location, revision: 1, reason: 'why' };
  const current = { code: 'V-1', name: 'Rack', use: 'stock', revision: 1 } as const;
  expect(reasons(() => decideRevise(again, { ...empty, current, placesOfCode: ['location'] }))).toEqual([]);
});
