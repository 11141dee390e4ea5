import { byCodeUnits } from '../../../shared/code-units.js';
import { sumMicro } from '../../../shared/quantity.js';
import { countPieces } from '../../../shared/spans.js';
import { addsUp, FATES, lotAddsUp, type LotAccount, type UnitAccount } from './recall-report.reconcile.js';
import { code } from './recall-report.scope.js';
import type { AffectedWhereabouts, Fate, RecallReport } from './recall-report.types.js';
import type { Block, CellPart, Row, TableBlock } from './sheet.model.js';
import { capital, writtenAmount, writtenCount, writtenPieces, writtenQuantity, writtenSpans } from '../../../shared/written.js';

/** More places of one fate than this are summed by lot; the consignee list has them one by one. */
const MOST_PLACES = 400;

/** Where everything affected is now: first lot by lot against the affected total, then place by place. */
export function recallReconciliation(report: RecallReport, accounts: readonly UnitAccount[]): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Reconciliation', note: 'Affected goods against where the record says they are.' },
    ...verdict(report, accounts),
    ...accounts.map(accountTable),
    { kind: 'heading', level: 3, text: 'Place by place' },
    placeTable(report),
  ];
}

function verdict(report: RecallReport, accounts: readonly UnitAccount[]): Block[] {
  if (addsUp(accounts)) {
    const all = accounts.map(({ unit, affected }) => amount(unit, affected)).join(', ');
    return [
      { kind: 'paragraph', text: all === '' ? 'Nothing is affected.' : `It adds up exactly: all of ${all} is accounted for, lot by lot.` },
    ];
  }
  const lines = accounts.flatMap(({ unit, lots }) =>
    lots.filter((lot) => !lotAddsUp(lot)).map((lot) => `${differenceInWords(unit, lot)} ${reason(report, lot.lot)}`),
  );
  return [{ kind: 'caution', title: 'It does not add up', lines }];
}

function reason({ differences }: RecallReport, lot: string): string {
  const known = differences.filter((each) => each.lot === lot).map(({ why }) => why);
  return known.length === 0 ? 'Why is not known.' : known.join(' ');
}

function differenceInWords(unit: string, account: LotAccount): string {
  const parts = [
    ...(account.missing.length > 0 ? [`nowhere to be found: pieces ${writtenSpans(account.missing)}`] : []),
    ...(account.twice.length > 0 ? [`in two places at once: pieces ${writtenSpans(account.twice)}`] : []),
    ...(account.beside.length > 0 ? [`placed here but not affected: pieces ${writtenSpans(account.beside)}`] : []),
    ...(unit !== 'pieces' && account.difference > 0 ? [`${amount(unit, account.difference)} not accounted for`] : []),
    ...(unit !== 'pieces' && account.difference < 0 ? [`${amount(unit, -account.difference)} more accounted for than affected`] : []),
  ];
  return `${account.lot}: ${parts.join('; ')}.`;
}

function amount(unit: string, counted: number): string {
  return unit === 'pieces' ? writtenPieces(counted) : writtenQuantity(counted, unit);
}

/** One row a lot, one column a fate; fates that nothing met have no column. */
function accountTable({ unit, lots, affected, byFate, difference }: UnitAccount): TableBlock {
  const fates = FATES.filter((fate) => (byFate.get(fate) ?? 0) !== 0);
  const written = (counted: number): string => (unit === 'pieces' ? writtenCount(counted) : writtenQuantity(counted, unit));
  const cells = (account: { affected: number; byFate: ReadonlyMap<Fate, number>; difference: number }): string[] => [
    written(account.affected),
    ...fates.map((fate) => written(account.byFate.get(fate) ?? 0)),
    written(account.difference),
  ];
  return {
    kind: 'table',
    summary: `Affected lots counted in ${unit} against where they are`,
    columns: [
      { head: unit === 'pieces' ? 'Lot, in pieces' : `Lot, in ${unit}`, share: 20 },
      { head: 'Affected', share: 14, align: 'right' },
      ...fates.map((fate) => ({ head: capital(fate), share: 14, align: 'right' as const })),
      { head: 'Difference', share: 13, align: 'right' },
    ],
    rows: [
      ...lots.map((account): Row => {
        const [first = '', ...rest] = cells(account);
        const last = rest.pop() ?? '';
        return { kind: 'row', cells: [code(account.lot), first, ...rest, lotAddsUp(account) ? last : [{ text: last, look: 'accent' }]] };
      }),
      { kind: 'total', cells: ['Total', ...cells({ affected, byFate, difference })] },
    ],
    empty: 'Nothing is affected.',
  };
}

function placeTable({ whereabouts }: RecallReport): TableBlock {
  return {
    kind: 'table',
    summary: 'Affected goods by fate, holder and document',
    columns: [
      { head: 'Who or where', share: 40 },
      { head: 'Shipment or document', share: 22 },
      { head: 'Lot', share: 18 },
      { head: 'Piece numbers', share: 28 },
      { head: 'Amount', share: 16, align: 'right' },
    ],
    rows: FATES.flatMap((fate) =>
      fateRows(
        fate,
        whereabouts.filter((place) => place.fate === fate),
      ),
    ),
    empty: 'No whereabouts are recorded for any affected lot.',
  };
}

function fateRows(fate: Fate, places: readonly AffectedWhereabouts[]): Row[] {
  if (places.length === 0) return [];
  const title = capital(fate);
  const group: Row = { kind: 'group', title: [{ text: title, look: 'code' }], amount: sumInWords(places), again: `continued: ${title}` };
  if (places.length > MOST_PLACES && fate === 'dispatched') return [group, ...byLot(places)];
  const sorted = places.toSorted(
    (a, b) => byCodeUnits(a.holder, b.holder) || byCodeUnits(a.document ?? '', b.document ?? '') || byCodeUnits(a.lot, b.lot),
  );
  return [group, ...sorted.map(placeRow)];
}

function placeRow(place: AffectedWhereabouts): Row {
  const numbers: CellPart[] | string = place.spans === null ? [{ text: 'not numbered', look: 'quiet' }] : writtenSpans(place.spans);
  return { kind: 'row', cells: [place.holder, place.document ?? '', code(place.lot), numbers, writtenAmount(place)] };
}

/** Thousands of places of one lot in one row; nothing is left out of its amount. */
function byLot(places: readonly AffectedWhereabouts[]): Row[] {
  const lots = new Map<string, AffectedWhereabouts[]>();
  for (const place of places) {
    const of = lots.get(place.lot);
    if (of === undefined) lots.set(place.lot, [place]);
    else of.push(place);
  }
  return [...lots]
    .toSorted(([a], [b]) => byCodeUnits(a, b))
    .map(([lot, of]) => {
      const holders = new Set(of.map(({ holder }) => holder)).size;
      const documents = new Set(of.map(({ document }) => document)).size;
      return {
        kind: 'row',
        cells: [
          `${writtenCount(holders)} consignees, each listed under Consignees`,
          `${writtenCount(documents)} shipments`,
          code(lot),
          [{ text: 'see Consignees', look: 'quiet' }],
          sumInWords(of, false),
        ],
      };
    });
}

function sumInWords(places: readonly AffectedWhereabouts[], withNoun = true): string {
  const sums = new Map<string, number>();
  for (const { spans, quantityMicro, unit } of places) {
    const key = spans === null ? unit : 'pieces';
    sums.set(key, sumMicro([sums.get(key) ?? 0, spans === null ? quantityMicro : countPieces(spans)]));
  }
  return [...sums].map(([unit, sum]) => (unit === 'pieces' && !withNoun ? writtenCount(sum) : amount(unit, sum))).join(', ');
}
