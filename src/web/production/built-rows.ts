import type { View } from '../wire/client.js';

type Part = View<'BuiltPartView'>;

/** A component of a unit: how many there should be, what was built in, and what is in it now. */
export interface BuiltRow {
  readonly item: string;
  readonly name: string;
  readonly designed: string | null;
  readonly built: readonly Part[];
  readonly now: readonly Part[];
  /** What is in it now is not what was built in. */
  readonly changed: boolean;
}

const keyOf = ({ lot, piece, seq, mayStillHold }: Part): string => JSON.stringify([lot, piece, seq, mayStillHold]);

/** The bill of materials, the parts as built and the parts as they are, side by side: in the order of the bill, others after it. */
export function builtRows(
  lines: readonly { item: string; perPiece: string }[],
  asBuilt: readonly Part[],
  asIs: readonly Part[],
): BuiltRow[] {
  const items = [...new Set([...lines.map(({ item }) => item), ...asBuilt.map(({ item }) => item), ...asIs.map(({ item }) => item)])];
  return items.map((item) => {
    const built = asBuilt.filter((part) => part.item === item);
    const now = asIs.filter((part) => part.item === item);
    const same = built.length === now.length && built.every((part) => now.some((other) => keyOf(other) === keyOf(part)));
    return {
      item,
      name: (built[0] ?? now[0])?.name ?? item,
      designed: lines.find((line) => line.item === item)?.perPiece ?? null,
      built,
      now,
      changed: !same,
    };
  });
}
