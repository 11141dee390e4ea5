import { parseQuantity } from '../../../shared/quantity.js';

/** What is affected of a lot and how much of it is disposed of, as the server tells it. */
interface AddingUpAccount {
  readonly lot: string;
  readonly unit: string;
  readonly affected: string;
  readonly disposed: string;
  readonly carriedOut: string;
  readonly open: string;
  readonly tooMany: string;
}

/** A disposition of the lot. */
export interface AddingUpDisposition {
  readonly kind: string;
  readonly state: 'proposed' | 'signed' | 'carried-out' | 'verified' | 'withdrawn';
  readonly lot: string;
  readonly quantity: string;
  /** How much of a sorted part was found to conform, and is thereby disposed of; null where nothing was sorted. */
  readonly conforming: string | null;
}

export type Standing = 'proposed' | 'signed' | 'done';

/** One kind of disposition at one standing: a stretch of the bar. */
export interface Stretch {
  readonly kind: string;
  readonly standing: Standing;
  readonly micro: number;
}

export interface AddingUp {
  readonly affectedMicro: number;
  readonly disposedMicro: number;
  readonly openMicro: number;
  readonly tooManyMicro: number;
  /** In the order in which kinds are first proposed; what is done first. */
  readonly stretches: readonly Stretch[];
}

const STANDING: Readonly<Record<string, Standing>> = { proposed: 'proposed', signed: 'signed', 'carried-out': 'done', verified: 'done' };
const ORDER: readonly Standing[] = ['done', 'signed', 'proposed'];

/**
 * The stretches of the bar on which affected and disposed come to the same: by kind, and within it by how far it is. A part that was
 * sorted counts for what was found to conform; the rest is open again.
 */
export function addingUp(account: AddingUpAccount, dispositions: readonly AddingUpDisposition[]): AddingUp {
  const sums = new Map<string, Map<Standing, number>>();
  for (const one of dispositions) {
    const standing = STANDING[one.state];
    if (one.lot !== account.lot || standing === undefined) continue;
    const micro = parseQuantity(one.conforming ?? one.quantity);
    const kind = sums.get(one.kind) ?? new Map<Standing, number>();
    sums.set(one.kind, kind.set(standing, (kind.get(standing) ?? 0) + micro));
  }
  const stretches = [...sums].flatMap(([kind, by]) =>
    ORDER.flatMap((standing) => {
      const micro = by.get(standing) ?? 0;
      return micro === 0 ? [] : [{ kind, standing, micro }];
    }),
  );
  return {
    affectedMicro: parseQuantity(account.affected),
    disposedMicro: parseQuantity(account.disposed),
    openMicro: parseQuantity(account.open),
    tooManyMicro: parseQuantity(account.tooMany),
    stretches,
  };
}
