import { MICRO } from '../shared/quantity.js';
import type { LinkMade, LotBorn, LotStatus } from '../src/server/plant/stock/effects.facts.js';
import { recordFacts } from './fernhollow.js';
import type { Plant } from './harness.js';

/** Lots that were made, for flows whose story begins after the making. */

export interface Made {
  readonly lot: string;
  readonly item: string;
  /** N of a numbered lot; or a quantity in millionths of a bulk one. */
  readonly pieces?: number;
  readonly quantityMicro?: number;
  readonly unit?: LotBorn['unit'];
  readonly at?: string;
  readonly bornAt?: string;
  readonly expiresOn?: string;
  readonly serials?: readonly string[];
  readonly status?: LotStatus;
}

const bornOf = (made: Made): LotBorn => ({
  lot: made.lot,
  item: made.item,
  itemRevision: 1,
  unit: made.unit ?? 'each',
  pieces: made.pieces ?? null,
  quantityMicro: made.quantityMicro ?? (made.pieces ?? 0) * MICRO,
  origin: 'made',
  bornAt: made.bornAt ?? '2026-02-20T08:00:00.000Z',
  place: { fate: 'on-hand', at: made.at ?? 'FG-1' },
  status: made.status ?? 'released',
  expiresOn: made.expiresOn,
  source: `RUN-${made.lot}`,
  serials: made.serials,
});

/** Brings lots into being past every decision, released unless said otherwise. */
export const makeLots = (plant: Plant, lots: readonly Made[]): Promise<void> =>
  recordFacts(plant, [{ kind: 'LotsMadeForTest', v: 1, born: lots.map(bornOf) }]);

/** Records that one lot, or pieces of it, went into another. */
export const linkLots = (plant: Plant, run: string, links: readonly (Pick<LinkMade, 'from' | 'to'> & Partial<LinkMade>)[]): Promise<void> =>
  recordFacts(plant, [
    {
      kind: 'LinksMadeForTest',
      v: 1,
      linked: [
        {
          run,
          kind: 'filling',
          at: '2026-02-20T07:00:00.000Z',
          links: links.map((link) => ({ fromSpan: null, toSpan: null, quantityMicro: MICRO, massMicro: MICRO, map: 'all', ...link })),
        },
      ],
    } as never,
  ]);
