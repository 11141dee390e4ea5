import { MICRO } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import {
  countPieces,
  coversSpans,
  formatSpans,
  intersectSpans,
  type Span,
  type SpanSet,
  spanSet,
  subtractSpans,
  wholeLot,
} from '../../../../shared/spans.js';
import { spansInUse } from './run-links.decide.js';
import { chargedNet, type ChargeState, type NetCharge, type RunState } from './run-state.facts.js';

/**
 * Whether what was told of changeovers and fitted pieces fits a lot of so many pieces: inside it, of lots that were charged, and with
 * every serial-numbered component fitted into exactly one unit.
 * @returns components of which the record cannot tell the lots apart; those are linked to every piece they may be in
 * @see docs/rules/production.md P-22, P-24
 */
export function checkCoverage(no: Reasons, run: RunState, pieces: number): string[] {
  const charged = chargedNet(run.charges);
  checkChangeovers(no, run, charged, pieces);
  for (const { charge } of charged) {
    const outside = subtractSpans(spanSet(charge.into.map(({ toSpan }) => toSpan)), wholeLot(pieces));
    if (outside.length > 0) {
      no.conflict('pieces-outside-lot', `${charge.lot} went into pieces ${formatSpans(outside)}, there are 1-${pieces}`, {
        lot: charge.lot,
      });
    }
  }
  const serialItems = (run.bom?.lines ?? []).filter((line) => line.trackedBy === 'serial');
  for (const line of serialItems) checkFitted(no, line.item, line.perPieceMicro / MICRO, charged, pieces);
  return unsureItems(no, run, charged, pieces);
}

type Charged = readonly { readonly charge: ChargeState; readonly net: NetCharge }[];

function checkChangeovers(no: Reasons, run: RunState, charged: Charged, pieces: number): void {
  for (const { item, lot, fromPiece } of run.changeovers) {
    if (!charged.some(({ charge }) => charge.lot === lot)) {
      no.conflict('not-charged', `there is a changeover to ${lot}, but nothing of it was charged`, { lot });
    }
    if (fromPiece > pieces) no.conflict('pieces-outside-lot', `${item} changes over at piece ${fromPiece}, there are 1-${pieces}`, { lot });
  }
}

/** Every unit has its number of the component, piece by piece, and every piece charged is in a unit. */
function checkFitted(no: Reasons, item: string, perUnit: number, charged: Charged, pieces: number): void {
  const ofItem = charged.filter(({ charge }) => charge.item === item);
  const fitted = ofItem.flatMap(({ charge, net }) =>
    charge.into.flatMap(({ fromSpan, toSpan, map }) => {
      if (map !== 'each' || fromSpan === null) return [];
      const offset = toSpan[0] - fromSpan[0];
      return intersectSpans([fromSpan], net.spans ?? []).map((span) => ({
        lot: charge.lot,
        from: span,
        to: [span[0] + offset, span[1] + offset] as Span,
      }));
    }),
  );
  for (const { charge, net } of ofItem) {
    const loose = subtractSpans(net.spans ?? [], spanSet(fitted.filter((one) => one.lot === charge.lot).map((one) => one.from)));
    if (loose.length > 0) {
      no.conflict('not-fitted', `pieces ${formatSpans(loose)} of ${charge.lot} are charged but fitted into no unit: fit or return them`, {
        lot: charge.lot,
      });
    }
  }
  const wrong = unitsWithout(
    fitted.map((one) => one.to),
    perUnit,
    pieces,
  );
  if (wrong.length > 0)
    no.conflict('unit-incomplete', `units ${formatSpans(wrong)} have not exactly ${perUnit} of ${item}`, {
      item,
      units: formatSpans(wrong),
    });
  for (const lot of new Set(fitted.map((one) => one.lot)))
    checkTwice(
      no,
      lot,
      fitted.filter((one) => one.lot === lot).map((one) => one.from),
    );
}

/** Units that do not have exactly so many, by counting up and down along the pieces. */
function unitsWithout(spans: readonly Span[], perUnit: number, pieces: number): SpanSet {
  const steps = new Map<number, number>([[1, 0]]);
  for (const [first, last] of spans) {
    steps.set(first, (steps.get(first) ?? 0) + 1);
    steps.set(last + 1, (steps.get(last + 1) ?? 0) - 1);
  }
  const points = [...steps.keys()].filter((point) => point <= pieces).toSorted((a, b) => a - b);
  const wrong: Span[] = [];
  let count = 0;
  points.forEach((point, i) => {
    count += steps.get(point)!;
    if (count !== perUnit) wrong.push([point, (points[i + 1] ?? pieces + 1) - 1]);
  });
  return spanSet(wrong);
}

function checkTwice(no: Reasons, lot: string, spans: readonly Span[]): void {
  const sum = spans.reduce((total, [first, last]) => total + last - first + 1, 0);
  if (sum > countPieces(spanSet(spans))) no.conflict('fitted-twice', `a piece of ${lot} is fitted into two units`, { lot });
}

function unsureItems(no: Reasons, run: RunState, charged: Charged, pieces: number): string[] {
  const untold = charged.filter(({ charge, net }) => !isTold(charge, net));
  const unsure: string[] = [];
  for (const item of new Set(untold.map(({ charge }) => charge.item))) {
    const lots = [...new Set(untold.filter(({ charge }) => charge.item === item).map(({ charge }) => charge.lot))];
    const use = spansInUse(
      lots,
      run.changeovers.filter((changeover) => changeover.item === item),
      pieces,
    );
    if (use.uncovered.length > 0) {
      no.conflict('no-lot-at-start', `pieces ${formatSpans(use.uncovered)} have no lot of ${item}: the first changeover comes later`, {
        item,
      });
    }
    if (use.unsure.length > 0) unsure.push(item);
  }
  return unsure;
}

const isTold = (charge: ChargeState, net: NetCharge): boolean =>
  charge.into.length > 0 &&
  (net.spans === null || coversSpans(spanSet(charge.into.flatMap(({ fromSpan }) => (fromSpan === null ? [] : [fromSpan]))), net.spans));
