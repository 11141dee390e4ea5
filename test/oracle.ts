/*
 * What a trace must answer, worked out the slow way: one node per piece, plain objects, every link looked at for every node.
 * Shares no code with the server or with shared/, so that a mistake there cannot hide here.
 */

export interface OracleLink {
  seq: number;
  ord: number;
  fromLot: number;
  fromFirst: number;
  fromLast: number;
  toLot: number;
  toFirst: number;
  toLast: number;
  massMicro: number;
  map: 'all' | 'each';
  voidedAt: number | null;
}

/** `pieces[lot]` is the N of a numbered lot and 0 for bulk; lots are numbered from 1. */
export interface OraclePlant {
  pieces: number[];
  links: OracleLink[];
}

export interface OracleOrigin {
  lot: number;
  pieces: number[] | null;
}

/** Of one lot: the pieces reached (bulk: the one piece 0), the depth, and what links reach of an origin. */
export interface OracleReached {
  pieces: Set<number>;
  depth: number;
  again: { pieces: Set<number>; depth: number } | null;
}

interface Node {
  lot: number;
  piece: number;
}

const range = (first: number, last: number): number[] => Array.from({ length: last - first + 1 }, (_, k) => first + k);
const nodesOf = (plant: OraclePlant, lot: number): number[] => (plant.pieces[lot] === 0 ? [0] : range(1, plant.pieces[lot]!));

export const countsAt = (link: OracleLink, asKnownAt: number): boolean =>
  link.seq <= asKnownAt && (link.voidedAt === null || link.voidedAt > asKnownAt);

/** The nodes that one link leads to from one node. */
function across(link: OracleLink, node: Node, forward: boolean): Node[] {
  const near = forward
    ? { lot: link.fromLot, first: link.fromFirst, last: link.fromLast }
    : { lot: link.toLot, first: link.toFirst, last: link.toLast };
  const far = forward
    ? { lot: link.toLot, first: link.toFirst, last: link.toLast }
    : { lot: link.fromLot, first: link.fromFirst, last: link.fromLast };
  if (node.lot !== near.lot || node.piece < near.first || node.piece > near.last) return [];
  if (link.map === 'each') return [{ lot: far.lot, piece: far.first + node.piece - near.first }];
  return range(far.first, far.last).map((piece) => ({ lot: far.lot, piece }));
}

export function oracleTrace(
  plant: OraclePlant,
  direction: 'forward' | 'backward',
  origins: OracleOrigin[],
  asKnownAt: number,
): Map<number, OracleReached> {
  const links = plant.links.filter((link) => countsAt(link, asKnownAt));
  const starts = origins.flatMap(({ lot, pieces }) => (pieces ?? nodesOf(plant, lot)).map((piece) => ({ lot, piece })));
  const reached = new Map<number, OracleReached>();
  const seen = new Set<string>();
  const isOrigin = new Set(starts.map(({ lot }) => lot));
  let round: Node[] = [];
  const visit = (node: Node, depth: number): void => {
    const key = `${node.lot}/${node.piece}`;
    if (seen.has(key)) return;
    seen.add(key);
    round.push(node);
    const lot = reached.get(node.lot) ?? { pieces: new Set(), depth, again: null };
    lot.pieces.add(node.piece);
    reached.set(node.lot, lot);
  };
  for (const start of starts) visit(start, 0);
  for (let depth = 1; round.length > 0; depth++) {
    const now = round;
    round = [];
    for (const node of now) {
      for (const next of links.flatMap((link) => across(link, node, direction === 'forward'))) {
        if (isOrigin.has(next.lot)) {
          const origin = reached.get(next.lot)!;
          origin.again ??= { pieces: new Set(), depth };
          origin.again.pieces.add(next.piece);
        }
        visit(next, depth);
      }
    }
  }
  return reached;
}

/** The lots of the conservative scope with their depths: lots and links alone, pieces forgotten. */
export function oracleConservative(
  plant: OraclePlant,
  direction: 'forward' | 'backward',
  origins: OracleOrigin[],
  asKnownAt: number,
): Map<number, number> {
  const depths = new Map<number, number>(origins.map(({ lot }) => [lot, 0]));
  for (let depth = 0; [...depths.values()].includes(depth); depth++) {
    for (const link of plant.links.filter((one) => countsAt(one, asKnownAt))) {
      const [near, far] = direction === 'forward' ? [link.fromLot, link.toLot] : [link.toLot, link.fromLot];
      if (depths.get(near) === depth && !depths.has(far)) depths.set(far, depth + 1);
    }
  }
  return depths;
}

/** An exact fraction; denominators are positive and terms are reduced. */
class Fraction {
  readonly over: bigint;
  readonly under: bigint;
  constructor(over: bigint, under: bigint = 1n) {
    let [a, b] = [over < 0n ? -over : over, under < 0n ? -under : under];
    while (b !== 0n) [a, b] = [b, a % b];
    const sign = under < 0n ? -1n : 1n;
    this.over = (sign * over) / (a || 1n);
    this.under = (sign * under) / (a || 1n);
  }
  plus(other: Fraction): Fraction {
    return new Fraction(this.over * other.under + other.over * this.under, this.under * other.under);
  }
  minus(other: Fraction): Fraction {
    return new Fraction(this.over * other.under - other.over * this.under, this.under * other.under);
  }
  times(other: Fraction): Fraction {
    return new Fraction(this.over * other.over, this.under * other.under);
  }
  by(other: Fraction): Fraction {
    return new Fraction(this.over * other.under, this.under * other.over);
  }
  get isZero(): boolean {
    return this.over === 0n;
  }
  toNumber(): number {
    // Both scaled to at most about 60 significant bits beyond the quotient's leading one, then one division of floats.
    const shift = 80n - BigInt(this.over.toString(2).length - this.under.toString(2).length);
    const scaled = shift >= 0n ? (this.over << shift) / this.under : this.over / (this.under << -shift);
    return Number(scaled) * 2 ** -Number(shift);
  }
}

/**
 * Exact share of every piece, by lot and then piece (bulk: piece 0); null where no blended material of the origin arrives.
 * One linear equation per piece that is touched, solved by elimination in fractions, cycles and all.
 */
export function oracleShares(plant: OraclePlant, origins: OracleOrigin[], asKnownAt: number): Map<number, Map<number, number | null>> {
  const links = plant.links.filter((link) => countsAt(link, asKnownAt) && link.massMicro > 0);
  const touched = oracleTrace({ ...plant, links }, 'forward', origins, asKnownAt);
  const fixed = new Set(origins.flatMap(({ lot, pieces }) => (pieces ?? nodesOf(plant, lot)).map((piece) => `${lot}/${piece}`)));
  const unknowns: Node[] = [...touched].flatMap(([lot, { pieces }]) =>
    [...pieces].filter((piece) => !fixed.has(`${lot}/${piece}`)).map((piece) => ({ lot, piece })),
  );
  const column = new Map(unknowns.map(({ lot, piece }, at) => [`${lot}/${piece}`, at]));
  const rows = unknowns.map((node, at) => {
    const row = Array.from({ length: unknowns.length + 1 }, () => new Fraction(0n));
    row[at] = new Fraction(1n);
    const inputs = links.filter((link) => link.toLot === node.lot && link.toFirst <= node.piece && node.piece <= link.toLast);
    const perPiece = (link: OracleLink): Fraction => new Fraction(BigInt(link.massMicro), BigInt(link.toLast - link.toFirst + 1));
    const total = inputs.map(perPiece).reduce((sum, mass) => sum.plus(mass), new Fraction(0n));
    for (const link of inputs) {
      const sources = across(link, node, false);
      const weight = perPiece(link)
        .by(total)
        .by(new Fraction(BigInt(sources.length)));
      for (const { lot, piece } of sources) {
        const source = column.get(`${lot}/${piece}`);
        if (fixed.has(`${lot}/${piece}`)) row[unknowns.length] = row[unknowns.length]!.plus(weight);
        else if (source !== undefined) row[source] = row[source]!.minus(weight);
      }
    }
    return row;
  });
  const solution = eliminate(rows);
  const shares = new Map<number, Map<number, number | null>>();
  for (const [lot] of oracleTrace(plant, 'forward', origins, asKnownAt)) {
    const byPiece = nodesOf(plant, lot).map((piece): [number, number | null] => {
      if (fixed.has(`${lot}/${piece}`)) return [piece, 1];
      const at = column.get(`${lot}/${piece}`);
      return [piece, at === undefined ? null : solution[at]!.toNumber()];
    });
    shares.set(lot, new Map(byPiece));
  }
  return shares;
}

function eliminate(rows: Fraction[][]): Fraction[] {
  for (let at = 0; at < rows.length; at++) {
    const pivot = rows.findIndex((row, index) => index >= at && !row[at]!.isZero);
    [rows[at], rows[pivot]] = [rows[pivot]!, rows[at]!];
    const lead = rows[at]!;
    for (const [index, row] of rows.entries()) {
      if (index === at || row[at]!.isZero) continue;
      const factor = row[at]!.by(lead[at]!);
      rows[index] = row.map((value, k) => (lead[k]!.isZero ? value : value.minus(factor.times(lead[k]!))));
    }
  }
  return rows.map((row, at) => row.at(-1)!.by(row[at]!));
}
