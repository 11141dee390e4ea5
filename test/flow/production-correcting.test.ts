import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { catalogueFernhollow, receive, receiveReleased, release } from '../fernhollow.js';
import { DATABASES, PASSWORD, type Plant, startPlant } from '../harness.js';
import { linkLots, makeLots } from '../made-lots.js';
import { done, operator, post, type Raw, rawMaterials, refuse, refused, releasedBatch, type RunBody, traced, wait } from '../making.js';
import { expectRebuildEqual } from '../rebuild.js';

const CLEARED = { confirmed: true, checkedBy: 'operator-2' };
const FILL = {
  kind: 'filling',
  item: 'WAX-250',
  bom: 'BOM-WAX-250',
  line: 'FILL-1',
  clearance: CLEARED,
  label: { text: 'Chain wax 250 g' },
} as const;

interface Links {
  readonly links: readonly {
    readonly seq: number;
    readonly ord: number;
    readonly from: string;
    readonly toPieces: string | null;
    readonly voidSeq: number | null;
  }[];
}

describe.each(DATABASES)('repacking and correcting on %s', (database) => {
  let plant: Plant;
  let raw: Raw;
  let batch: string;
  let packaging: Record<'cans' | 'lids' | 'labels' | 'others', string>;
  const filled: RunBody[] = [];

  beforeAll(async () => {
    plant = await startPlant(database);
    await catalogueFernhollow(plant);
    raw = await rawMaterials(plant);
    batch = await releasedBatch(plant, raw);
    const [cans, lids, labels, others] = await receiveReleased(
      plant,
      [
        { item: 'CAN-250', quantity: '500' },
        { item: 'LID-250', quantity: '500' },
        { item: 'LBL-250', quantity: '500' },
        { item: 'LBL-250', quantity: '500' },
      ],
      'S-PACK',
    );
    packaging = { cans: cans!, lids: lids!, labels: labels!, others: others! };
  });
  afterAll(() => plant.stop());

  const fill = async (pieces: number): Promise<RunBody> => {
    const { run } = await post(plant, '/api/runs', FILL);
    const each = [packaging.cans, packaging.lids, packaging.labels].map((lot) => ({ lot, quantity: String(pieces) }));
    await post(plant, `/api/runs/${run}/charges`, { charges: [{ lot: batch, quantity: String(pieces / 4) }, ...each] });
    const closed = await post(plant, `/api/runs/${run}/close`, { pieces, location: 'FG-1' });
    await release(plant, [closed.lot!]);
    filled.push(closed);
    return closed;
  };
  const links = async (run: string): Promise<Links['links']> => done(await operator(plant).get<Links>(`/api/runs/${run}/links`)).links;
  const onHand = async (lot: string): Promise<[string, string][]> => {
    const body = done(await operator(plant).get<{ places: { fate: string; at: string; quantity: string }[] }>(`/api/lots/${lot}`));
    return body.places.filter((place) => place.fate === 'on-hand').map((place) => [place.at, place.quantity]);
  };

  it('P-25: cans of two fillings are packed again, piece by piece or any into any, across their borders', async () => {
    const [first, second] = [(await fill(40)).lot!, (await fill(40)).lot!];
    const { run } = await post(plant, '/api/runs', { kind: 'repacking', item: 'WAX-250' });
    const path = `/api/runs/${run}`;
    await post(plant, `${path}/charges`, {
      charges: [
        { lot: first, pieces: '31-40', intoPieces: '1-10', map: 'each' },
        { lot: second, pieces: '1-4,9-14', intoPieces: '11-20', map: 'each' },
        { lot: second, pieces: '20-24', intoPieces: '21-24,30', map: 'all' },
        { lot: first, pieces: '1-5', intoPieces: '25-29', map: 'each' },
      ],
    });
    expect(await refuse(plant, `${path}/charges`, { charges: [{ lot: first, pieces: '40' }] })).toEqual(['pieces-not-there']);
    expect(await refuse(plant, `${path}/close`, { pieces: 29, location: 'FG-1' })).toEqual(['pieces-outside-lot']);
    const closed = await post(plant, `${path}/close`, { pieces: 30, location: 'FG-1' });
    const packed = closed.lot!;
    expect(closed.yields!.expiresOn).toBe('2028-03-01');
    expect(await traced(plant, `lot=${first}&pieces=3,35&direction=forward`)).toEqual({ [packed]: '5,27' });
    expect(await traced(plant, `lot=${second}&pieces=4,9&direction=forward`)).toEqual({ [packed]: '14-15' });
    expect(await traced(plant, `lot=${second}&pieces=22&direction=forward`)).toEqual({ [packed]: '21-24,30' });
    expect(await traced(plant, `lot=${packed}&pieces=15&direction=backward`)).toMatchObject({ [second]: '9' });
  });

  it('P-51: a changeover put right later narrows the trace, and the voided link stays readable', async () => {
    const closed = await fill(60);
    const path = `/api/runs/${closed.run}/corrections`;
    const labels = closed.charges.find((charge) => charge.lot === packaging.labels)!;
    const correction = {
      corrects: closed.closedSeq,
      reason: 'the second reel was not written down',
      returns: [{ charge: labels.charge, quantity: '20' }],
      charges: [{ lot: packaging.others, quantity: '20', fromPiece: 41 }],
    };
    expect(await refuse(plant, path, { ...correction, corrects: 1 })).toEqual(['entry-not-of-run']);
    expect(await refuse(plant, path, { ...correction, charges: [{ lot: packaging.others, quantity: '501', fromPiece: 41 }] })).toEqual([
      'not-enough-left',
    ]);
    expect(await refuse(plant, path, { ...correction, returns: [{ charge: labels.charge, quantity: '61' }] })).toEqual(['not-charged']);
    expect(await refuse(plant, path, { ...correction, charges: [] })).toEqual(['component-short']);
    const late = { lot: packaging.others, quantity: '20', fromPiece: 41, chargedAt: wait(plant, 5) };
    expect(await refuse(plant, path, { ...correction, charges: [late] })).toEqual(['after-finish']);
    expect(refused(await plant.as('clerk').post(path, correction))).toEqual(['role-needed']);
    const before = await onHand(packaging.labels);
    const corrected = done(await plant.as('quality').post<RunBody>(path, correction));
    expect(corrected.corrections).toMatchObject([{ corrects: closed.closedSeq, voided: 1, linked: 2, reason: correction.reason }]);
    expect(await onHand(packaging.labels)).not.toEqual(before);
    expect(await onHand(packaging.others)).toEqual([['DOCK', '480']]);
    expect(await traced(plant, `lot=${packaging.others}&direction=forward`)).toEqual({ [closed.lot!]: '41-60' });
    const ofLabels = (await links(closed.run)).filter((link) => link.from === packaging.labels);
    expect(ofLabels.map((link) => [link.toPieces, link.voidSeq === null])).toEqual([
      ['1-60', false],
      ['1-40', true],
    ]);
    expect(await traced(plant, `lot=${packaging.labels}&direction=forward&asKnownAt=${closed.closedSeq}`)).toMatchObject({
      [closed.lot!]: '1-60',
    });
    expect(await refuse(plant, path, { corrects: closed.closedSeq, reason: 'nothing' })).toEqual(['nothing-changed']);
  });

  it('P-52: all changeovers of a run given anew replace the ones known before', async () => {
    const closed = filled.at(-1)!;
    const changeovers = [
      { lot: packaging.labels, fromPiece: 1 },
      { lot: packaging.others, fromPiece: 51 },
    ];
    const corrected = await post(plant, `/api/runs/${closed.run}/corrections`, {
      corrects: closed.closedSeq,
      reason: 'reel came later',
      changeovers,
    });
    expect(corrected.changeovers.map(({ lot, fromPiece }) => [lot, fromPiece])).toEqual([
      [packaging.labels, 1],
      [packaging.others, 51],
    ]);
    expect(await traced(plant, `lot=${packaging.others}&direction=forward`)).toEqual({ [closed.lot!]: '51-60' });
  });

  it('P-53, ST-7: material recorded late is contained: a hold on it reaches what was made', async () => {
    const [wrong] = await receiveReleased(plant, [{ item: 'LID-250', quantity: '40' }], 'S-PACK');
    const closed = await fill(10);
    const lids = closed.charges.find((charge) => charge.lot === packaging.lids)!;
    const hold = { parts: [{ lot: wrong }], reaches: true, reason: 'cracked', owner: 'quality-1', password: PASSWORD };
    await post(plant, `/api/runs/${closed.run}/corrections`, {
      corrects: closed.closedSeq,
      reason: 'lids were of another box',
      returns: [{ charge: lids.charge }],
      charges: [{ lot: wrong, quantity: '10' }],
    });
    const placed = await plant.as('quality').post('/api/holds', hold);
    expect(placed.status, JSON.stringify(placed.body)).toBe(201);
    const { run } = await post(plant, '/api/runs', { kind: 'repacking', item: 'WAX-250' });
    expect(await refuse(plant, `/api/runs/${run}/charges`, { charges: [{ lot: closed.lot, pieces: '1-5' }] })).toEqual(['made-from-held']);
    await post(plant, `/api/runs/${run}/close`);
  });

  it('GE-11: a link recorded by hand makes no loop, no stock below nothing, and nothing before its input', async () => {
    await makeLots(plant, [
      { lot: 'OLD-A', item: 'MIX-WAX', unit: 'kg', quantityMicro: 50_000_000, at: 'RACK-1' },
      { lot: 'OLD-B', item: 'MIX-WAX', unit: 'kg', quantityMicro: 80_000_000, at: 'RACK-1', bornAt: '2026-02-21T08:00:00.000Z' },
      { lot: 'OLD-F', item: 'WAX-250', pieces: 20, bornAt: '2026-02-22T08:00:00.000Z' },
    ]);
    const at = '2026-02-21T06:00:00.000Z';
    const by = (links_: object[], over: object = {}) => ({
      run: 'OLD-RUN',
      kind: 'mixing',
      reason: 'found in the paper log',
      links: links_,
      ...over,
    });
    const first = done(
      await operator(plant).post<Links>('/api/link-corrections', by([{ from: 'OLD-A', to: 'OLD-B', quantity: '10', at }])),
    );
    expect(first.links).toHaveLength(1);
    expect(await traced(plant, 'lot=OLD-A&direction=forward')).toEqual({ 'OLD-B': 'all' });
    expect(
      await refuse(plant, '/api/link-corrections', by([{ from: 'OLD-B', to: 'OLD-A', quantity: '1', at: '2026-02-21T09:00:00.000Z' }])),
    ).toEqual(['loop', 'used-before-made']);
    expect(await refuse(plant, '/api/link-corrections', by([{ from: 'OLD-A', to: 'OLD-F', quantity: '41', at }]))).toEqual([
      'not-enough-left',
    ]);
    expect(await refuse(plant, '/api/link-corrections', by([{ from: 'OLD-A', to: 'OLD-F', toPieces: '21', quantity: '1', at }]))).toEqual([
      'pieces-outside-lot',
    ]);
    expect(
      await refuse(plant, '/api/link-corrections', by([{ from: 'OLD-F', fromPieces: '1-2', to: 'OLD-F', toPieces: '4', at, map: 'each' }])),
    ).toEqual(['loop', 'used-before-made', 'unequal-pieces']);
    expect(await refuse(plant, '/api/link-corrections', by([], { run: filled[0]!.run, voids: [{ seq: 1, ord: 1 }] }))).toEqual([
      'run-has-record',
      'link-not-standing',
    ]);
    const rework = {
      run: 'OLD-REWORK',
      kind: 'rework',
      reason: 'dented cans melted back',
      links: [{ from: 'OLD-F', fromPieces: '1-2', to: 'OLD-B', at: '2026-02-23T08:00:00.000Z' }],
    };
    done(await operator(plant).post('/api/link-corrections', { ...rework, links: [...rework.links] }));
    done(
      await operator(plant).post(
        '/api/link-corrections',
        by([{ from: 'OLD-B', to: 'OLD-F', quantity: '5', at: '2026-02-22T07:00:00.000Z' }], { run: 'OLD-FILL', kind: 'rework' }),
      ),
    );
    expect(await traced(plant, 'lot=OLD-B&direction=forward')).toEqual({ 'OLD-B': 'all', 'OLD-F': '1-20' });
  });

  it('P-55: a voided link puts its quantity back, and both stay readable', async () => {
    const [link] = await links('OLD-RUN');
    const voids = [{ seq: link!.seq, ord: link!.ord }];
    const correction = { run: 'OLD-RUN', kind: 'mixing', reason: 'it was another batch', voids };
    expect(await refuse(plant, '/api/link-corrections', correction)).toEqual(['location-missing']);
    done(await operator(plant).post('/api/link-corrections', { ...correction, location: 'RACK-1' }));
    expect(await onHand('OLD-A')).toEqual([['RACK-1', '50']]);
    expect(await traced(plant, 'lot=OLD-A&direction=forward')).toEqual({});
    expect((await links('OLD-RUN'))[0]!.voidSeq).toBeGreaterThan(link!.seq);
    expect(await refuse(plant, '/api/link-corrections', { ...correction, location: 'RACK-1' })).toEqual(['link-not-standing']);
    await linkLots(plant, 'OLD-PAPER', [{ from: 'OLD-A', to: 'OLD-B' }]);
    const [paper] = await links('OLD-PAPER');
    const untaken = { run: 'OLD-PAPER', kind: 'mixing', reason: 'x', voids: [{ seq: paper!.seq, ord: paper!.ord }], location: 'RACK-1' };
    expect(await refuse(plant, '/api/link-corrections', untaken)).toEqual(['not-consumed']);
  });

  it('ID-3: one filling makes one lot of one item, with a code of its own even when it is typed', async () => {
    const [more] = await receive(plant, [{ item: 'WAX-BASE', quantity: '1' }]);
    const { run } = await post(plant, '/api/runs', FILL);
    const each = [packaging.cans, packaging.lids, packaging.labels].map((lot) => ({ lot, quantity: '4' }));
    await post(plant, `/api/runs/${run}/charges`, { charges: [{ lot: batch, quantity: '1' }, ...each] });
    expect(await refuse(plant, `/api/runs/${run}/close`, { pieces: 4, location: 'FG-1', lot: more })).toEqual(['lot-taken']);
    const closed = await post(plant, `/api/runs/${run}/close`, { pieces: 4, location: 'FG-1', lot: more!.toLowerCase() });
    expect(closed.lot).toBe(more!.toLowerCase());
  });

  it('ID-6: two fillings after one another carry different codes, each with its own lots behind it', async () => {
    const fillFour = async (): Promise<string> => {
      const { run } = await post(plant, '/api/runs', FILL);
      const each = [packaging.cans, packaging.lids, packaging.labels].map((lot) => ({ lot, quantity: '4' }));
      await post(plant, `/api/runs/${run}/charges`, { charges: [{ lot: batch, quantity: '1' }, ...each] });
      return (await post(plant, `/api/runs/${run}/close`, { pieces: 4, location: 'FG-1' })).lot!;
    };
    const codes = [await fillFour(), await fillFour()];
    expect(new Set(codes).size).toBe(2);
    for (const code of codes) expect(Object.keys(await traced(plant, `lot=${code}&direction=backward`))).toContain(batch);
    const other = codes[1]!;
    expect(Object.keys(await traced(plant, `lot=${codes[0]!}&direction=backward`))).not.toContain(other);
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
