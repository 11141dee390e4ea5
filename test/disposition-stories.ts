import * as fc from 'fast-check';
import { expect } from 'vitest';
import { MICRO } from '../shared/quantity.js';
import { Refusal } from '../shared/refusal.js';
import type { SpanSet } from '../shared/spans.js';
import type { SeverityClass } from '../src/server/plant/catalogue/inspection-plan.facts.js';
import { type DispositionKind, DISPOSITIONS } from '../src/server/plant/nonconformance/disposition.facts.js';
import { KILOGRAMS, PEOPLE, PIECES, UNTIL, World } from './disposition-world.js';

/** What people do to a report and its pieces, wisely or not, one after the other. */
export type Command = (world: World) => void;
export interface Story {
  readonly severity: SeverityClass;
  readonly status: 'released' | 'quarantine';
  readonly commands: readonly Command[];
}

const span = fc
  .tuple(fc.integer({ min: 1, max: PIECES }), fc.integer({ min: 1, max: PIECES }))
  .map(([a, b]): SpanSet => [[Math.min(a, b), Math.max(a, b)]]);
const micro = fc.integer({ min: 1, max: KILOGRAMS }).map((kg) => kg * MICRO);
const kind = fc.constantFrom(...DISPOSITIONS.filter((one) => one !== 'regrade' && one !== 'return-to-supplier'));
const number = fc.integer({ min: 1, max: 6 });
const severity = fc.constantFrom<SeverityClass>('critical', 'major', 'minor');
const status = fc.constantFrom('released' as const, 'quarantine' as const);
const lot = fc.constantFrom('F', 'B', 'R1', 'R2', 'R3', 'R4');

const pieces =
  (of: DispositionKind, which: SpanSet | undefined, authority: 'quality' | 'customer' = 'customer'): Command =>
  (world) =>
    world.propose({ kind: of, lot: 'F', pieces: which, authority });
const quantity =
  (of: DispositionKind, quantityMicro: number | undefined, authority: 'quality' | 'customer' = 'customer'): Command =>
  (world) =>
    world.propose({ kind: of, lot: 'B', quantityMicro, authority });
const sign =
  (n: number, who: number, which = 0): Command =>
  (world) =>
    world.sign(n, who, PEOPLE[who]![1][which % PEOPLE[who]![1].length]!);
const work =
  (n: number): Command =>
  (world) =>
    world.work(n);
const carryOut =
  (n: number, cut: number): Command =>
  (world) =>
    world.carryOut(n, cut);
const verify =
  (n: number, which: number): Command =>
  (world) =>
    world.verify(n, which);
const ship =
  (of: string, which: SpanSet, quantityMicro: number): Command =>
  (world) =>
    of === 'F' ? world.ship('F', which, 0) : world.ship(of, null, quantityMicro);
const release =
  (of: string, which: SpanSet | null): Command =>
  (world) =>
    world.release(of, of === 'F' ? which : null);
const wait =
  (day: number): Command =>
  (world) =>
    void (world.day = Math.max(world.day, day));

const authority = fc.constantFrom('quality' as const, 'customer' as const);
const any: fc.Arbitrary<Command> = fc.oneof(
  { weight: 3, arbitrary: fc.tuple(kind, fc.option(span, { nil: undefined }), authority).map((of) => pieces(...of)) },
  { weight: 3, arbitrary: fc.tuple(kind, fc.option(micro, { nil: undefined }), authority).map((of) => quantity(...of)) },
  { weight: 5, arbitrary: fc.tuple(number, fc.nat(PEOPLE.length - 1), fc.nat(1)).map((of) => sign(...of)) },
  {
    weight: 1,
    arbitrary: number.map(
      (n): Command =>
        (world) =>
          world.withdraw(n),
    ),
  },
  { weight: 3, arbitrary: number.map(work) },
  { weight: 5, arbitrary: fc.tuple(number, fc.nat(10)).map((of) => carryOut(...of)) },
  {
    weight: 3,
    arbitrary: fc.tuple(lot, fc.boolean()).map(
      ([of, accepts]): Command =>
        (world) =>
          world.inspect(of, accepts),
    ),
  },
  { weight: 3, arbitrary: fc.tuple(number, fc.nat(5)).map((of) => verify(...of)) },
  { weight: 3, arbitrary: fc.tuple(lot, span, micro).map((of) => ship(...of)) },
  { weight: 2, arbitrary: fc.tuple(lot, span).map((of) => release(...of)) },
  {
    weight: 1,
    arbitrary: severity.map(
      (of): Command =>
        (world) =>
          world.review(of),
    ),
  },
  { weight: 1, arbitrary: fc.integer({ min: 1, max: UNTIL + 1 }).map(wait) },
  { weight: 2, arbitrary: fc.constant<Command>((world) => world.close()) },
);

const noise = fc.array(fc.tuple(fc.nat(60), any), { maxLength: 8 });
const among = (sound: readonly Command[], more: readonly (readonly [number, Command])[]): Command[] => {
  const all = [...sound];
  for (const [at, one] of more) all.splice(Math.min(at, all.length), 0, one);
  return all;
};
/** @param between what somebody does once the work is done, and before anybody says so */
const decided = (n: number, cut: number, between: readonly Command[] = []): Command[] => [
  sign(n, 2),
  sign(n, 3),
  work(n),
  ...between,
  carryOut(n, cut),
];
const impatient: readonly Command[] = [
  ...[0, 0, 0].map(
    (which): Command =>
      (world) =>
        world.lift(which),
  ),
  ...['R1', 'R2'].map((of) => release(of, null)),
  release('F', [[1, PIECES]]),
];

/** Anything at all. */
export const anything: fc.Arbitrary<Story> = fc.record({ severity, status, commands: fc.array(any, { minLength: 1, maxLength: 60 }) });

/** Everything is disposed of, done, inspected, verified and closed, with other things in between. */
export const ending: fc.Arbitrary<Story> = fc
  .record({ severity, status, kinds: fc.tuple(kind, kind), cut: fc.nat(10), accepts: fc.boolean(), impatience: fc.nat(4), noise })
  .map(({ kinds, cut, accepts, impatience, noise: more, ...of }) => {
    const sound: Command[] = [
      ...(impatience === 0 ? [] : [(world: World) => world.inspect('F', true)]),
      pieces(kinds[0], [[1, PIECES]]),
      quantity(kinds[1], KILOGRAMS * MICRO),
      ...[1, 2].flatMap((n) => decided(n, cut, impatience === 0 ? impatient : [])),
      pieces('scrap', undefined),
      quantity('scrap', undefined),
      ...[3, 4].flatMap((n) => decided(n, 0)),
      ...['F', 'R1', 'R2'].map(
        (code): Command =>
          (world) =>
            world.inspect(code, accepts),
      ),
      release('R2', null),
      release('F', [[1, PIECES]]),
      ...[1, 2].flatMap((n) => [0, 1, 2].map((which) => verify(n, which))),
      release('R2', null),
      release('F', [[1, PIECES]]),
      (world) => world.close(),
    ];
    return { ...of, commands: among(sound, more) };
  });

/** Concessions on pieces and quantities beside other dispositions, and somebody who ships as much as they can. */
export const conceding: fc.Arbitrary<Story> = fc
  .record({ severity, status, quantities: fc.tuple(micro, micro, micro), second: kind, cut: fc.nat(10), early: fc.nat(6), noise })
  .map(({ quantities, second, cut, early, noise: more, ...of }) => {
    const sound: Command[] = [
      pieces('concession', [[1, 4]]),
      quantity('concession', quantities[0]),
      quantity(second, quantities[1]),
      quantity('concession', quantities[2]),
      ...[1, 2, 3, 4].flatMap((n) => decided(n, cut)),
    ];
    const greed = Array.from({ length: 12 }, (_, i) => ship(i % 2 === 0 ? 'B' : 'F', [[1 + (i >> 1), 1 + (i >> 1)]], 3 * MICRO));
    const crumbs = Array.from({ length: 6 }, () => ship('B', [], MICRO));
    return {
      ...of,
      commands: [...among(sound, more), ...greed.slice(0, early), ...crumbs.slice(0, early), wait(UNTIL + 1), ...greed, ...crumbs],
    };
  });

/** Tries every command of a story; one that is refused must say why and change nothing. */
export function play({ severity: of, status: stands, commands }: Story, after: (world: World) => void = () => {}): World {
  const world = new World(of, stands);
  for (const one of commands) {
    const before = JSON.stringify([world.entries, world.stock.held]);
    try {
      one(world);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      expect(error.reasons.length).toBeGreaterThan(0);
      expect(JSON.stringify([world.entries, world.stock.held])).toBe(before);
    }
    after(world);
  }
  return world;
}
