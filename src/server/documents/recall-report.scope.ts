import { countPieces } from '../../../shared/spans.js';
import type { AffectedLot, LotStatus, Narrowing, RecallReport, ScopeTotals, UnitAmount } from './recall-report.types.js';
import type { Block, Cell, CellPart, Row, Stamp } from './sheet.model.js';
import { writtenCount, writtenDate, writtenPieces, writtenQuantity, writtenShare, writtenSpans } from '../../../shared/written.js';

/** What a reader finds printed on the packs. */
export function productIdentification({ products }: RecallReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'Products, as printed on the pack' },
    {
      kind: 'table',
      summary: 'Affected products with the codes and dates printed on them',
      columns: [
        { head: 'Item', share: 28 },
        { head: 'Lot printed', share: 17 },
        { head: 'GTIN', share: 24 },
        { head: 'Made', share: 17 },
        { head: 'Best before or expires', share: 18 },
        { head: 'Numbers or serials affected', share: 26 },
      ],
      rows: products.map((product) => ({
        kind: 'row',
        cells: [
          code(product.item, product.name),
          code(product.lot),
          product.gtin ?? 'none',
          product.madeOn === null ? 'not recorded' : writtenDate(product.madeOn),
          product.expiresOn === null ? 'none' : writtenDate(product.expiresOn),
          product.marks ?? 'all of the lot',
        ],
      })),
      empty: 'No affected product has been packed or built: nothing carries a code that could be looked for.',
    },
  ];
}

/** A code on a line of its own, with its name quietly below. */
export function code(text: string, note?: string): CellPart[] {
  return [{ text, look: 'code' }, ...(note === undefined || note === '' ? [] : [{ text: note, look: 'quiet' as const }])];
}

/** Both scopes side by side, and what the narrower one rests on. */
export function recallScopes({ scopes, narrowings }: RecallReport): Block[] {
  const { narrow, conservative, chosen } = scopes;
  const fewer = conservative.pieces - narrow.pieces;
  return [
    { kind: 'heading', level: 2, text: 'Scope', note: `This report follows the ${chosen} scope.` },
    {
      kind: 'paragraph',
      text:
        'The conservative scope takes every lot that was touched as a whole, as if no changeover had been recorded. The narrow scope takes ' +
        `only the pieces that can hold affected material${fewer > 0 ? `, ${writtenPieces(fewer)} fewer` : '; here it leaves none out'}.`,
    },
    {
      kind: 'table',
      summary: 'Narrow and conservative scope compared',
      columns: [
        { head: '', share: 30 },
        { head: 'Narrow', share: 20, align: 'right' },
        { head: 'Conservative', share: 20, align: 'right' },
        { head: 'Left out by narrowing', share: 22, align: 'right' },
      ],
      rows: scopeRows(narrow, conservative),
      empty: 'Nothing was reached.',
    },
    { kind: 'heading', level: 3, text: 'What the narrowing rests on' },
    {
      kind: 'table',
      summary: 'Evidence for each lot that the narrow scope takes only in part',
      columns: [
        { head: 'Lot', share: 16 },
        { head: 'Affected', share: 22 },
        { head: 'Piece numbers', share: 22 },
        { head: 'Evidence', share: 50 },
      ],
      rows: narrowings.map(narrowingRow),
      empty: 'Nothing was narrowed: both scopes take the same pieces.',
    },
  ];
}

function scopeRow(label: string, narrow: number, conservative: number, written: (counted: number) => string): Row {
  return { kind: 'row', cells: [label, written(narrow), written(conservative), written(conservative - narrow)] };
}

function quantityIn(bulk: readonly UnitAmount[], unit: string): number {
  return bulk.find((each) => each.unit === unit)?.quantityMicro ?? 0;
}

function scopeRows(narrow: ScopeTotals, conservative: ScopeTotals): Row[] {
  const units = new Set([...narrow.bulk, ...conservative.bulk].map(({ unit }) => unit));
  return [
    scopeRow('Lots', narrow.lots, conservative.lots, writtenCount),
    scopeRow('Numbered pieces', narrow.pieces, conservative.pieces, writtenCount),
    ...Array.from(units, (unit) =>
      scopeRow(`Not numbered, in ${unit}`, quantityIn(narrow.bulk, unit), quantityIn(conservative.bulk, unit), (micro) =>
        writtenQuantity(micro, unit),
      ),
    ),
    scopeRow('Consignees', narrow.consignees, conservative.consignees, writtenCount),
  ];
}

function narrowingRow({ lot, piecesOfLot, spans, evidence }: Narrowing): Row {
  return {
    kind: 'row',
    cells: [
      code(lot),
      `${writtenCount(countPieces(spans))} of ${writtenCount(piecesOfLot)}`,
      writtenSpans(spans),
      evidence.length === 0
        ? [{ text: 'No evidence is recorded. Use the whole lot.', look: 'accent' }]
        : evidence.map((text) => ({ text })),
    ],
  };
}

const STAMPS: Readonly<Record<LotStatus, Stamp>> = {
  quarantine: { word: 'Quarantine', look: 'quarantine' },
  released: { word: 'Released', look: 'released' },
  held: { word: 'Held', look: 'held' },
  'not accepted': { word: 'Not accepted', look: 'refused' },
  expired: { word: 'Expired', look: 'muted' },
  scrapped: { word: 'Scrapped', look: 'muted' },
};

/** Every lot that the chosen scope reaches, from the origin onwards. */
export function affectedLots({ affectedLots: lots, scopes }: RecallReport): Block[] {
  const sorted = lots.toSorted((a, b) => a.depth - b.depth || (a.lot < b.lot ? -1 : a.lot > b.lot ? 1 : 0));
  return [
    {
      kind: 'heading',
      level: 2,
      text: 'Affected lots',
      note: `${writtenCount(lots.length)} ${lots.length === 1 ? 'lot' : 'lots'} in the ${scopes.chosen} scope. Steps count the runs between the origin and the lot.`,
    },
    {
      kind: 'table',
      summary: 'Affected lots with pieces, share and status',
      columns: [
        { head: 'Lot', share: 31 },
        { head: 'Status', share: 20 },
        { head: 'Made by', share: 18 },
        { head: 'Steps', share: 9, align: 'right' },
        { head: 'Affected', share: 20, align: 'right' },
        { head: 'Piece numbers', share: 22 },
        { head: 'Share from the origin', share: 19 },
      ],
      rows: sorted.map((lot) => ({ kind: 'row', cells: lotCells(lot) })),
      empty: 'No lot is affected.',
    },
  ];
}

function lotCells(lot: AffectedLot): Cell[] {
  return [
    code(lot.lot, `${lot.item} ${lot.itemName}`),
    [{ text: '', stamp: STAMPS[lot.status] }],
    lot.run === null ? [{ text: 'not made here', look: 'quiet' }] : lot.run,
    `${lot.depth}`,
    amountOf(lot),
    lot.spans === null ? [{ text: 'not numbered', look: 'quiet' }] : writtenSpans(lot.spans),
    lot.shares.length === 0
      ? [{ text: 'not a blend', look: 'quiet' }]
      : lot.shares.map(({ spans, fraction }) => ({
          text: spans === null || lot.shares.length === 1 ? writtenShare(fraction) : `${writtenSpans(spans)}: ${writtenShare(fraction)}`,
        })),
  ];
}

function amountOf(lot: AffectedLot): CellPart[] {
  const [affected, all] =
    lot.spans === null
      ? [writtenQuantity(lot.affectedMicro, lot.unit), writtenQuantity(lot.quantityMicro, lot.unit)]
      : [writtenCount(countPieces(lot.spans)), writtenCount(lot.piecesOfLot)];
  return [{ text: affected }, { text: affected === all ? 'all of it' : `of ${all}`, look: 'quiet' }];
}
