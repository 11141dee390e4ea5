import type { Breath } from './breath.js';
import { groupRows, type Grouped } from './columns.js';
import { type Folder, NOT_GIVEN } from './folder.js';

/**
 * Everything that takes something out of a lot, links first and shipment lines after them, each by one number: rows of links.csv are
 * 0 to n-1, lines of shipments.csv follow. Rows with faults take nothing.
 */
export class Uses {
  #byLot: Grouped = { starts: new Int32Array(1), rows: new Int32Array(0) };
  readonly #links: number;

  private constructor(readonly folder: Folder) {
    this.#links = folder.links.count;
  }

  static async of(folder: Folder, breath: Breath): Promise<Uses> {
    const { links, shipmentLines, lotNames } = folder;
    const uses = new Uses(folder);
    const lotOf = (use: number): number => (uses.#isSound(use) ? uses.lot(use) : NOT_GIVEN);
    uses.#byLot = await groupRows(links.count + shipmentLines.count, lotNames.count, lotOf, breath);
    return uses;
  }

  #isSound(use: number): boolean {
    const { links, shipmentLines } = this.folder;
    return (use < this.#links ? links.sound.at(use) : shipmentLines.sound.at(use - this.#links)) === 1;
  }

  lot(use: number): number {
    const { links, shipmentLines } = this.folder;
    return use < this.#links ? links.from.at(use) : shipmentLines.lot.at(use - this.#links);
  }

  first(use: number): number {
    const { links, shipmentLines } = this.folder;
    return use < this.#links ? links.fromFirst.at(use) : shipmentLines.first.at(use - this.#links);
  }

  last(use: number): number {
    const { links, shipmentLines } = this.folder;
    return use < this.#links ? links.fromLast.at(use) : shipmentLines.last.at(use - this.#links);
  }

  /** In millionths; nothing where the file does not say. */
  quantityMicro(use: number): number {
    const { links, shipmentLines } = this.folder;
    const quantity = use < this.#links ? links.quantity.at(use) : shipmentLines.quantity.at(use - this.#links);
    return quantity === NOT_GIVEN ? 0 : quantity;
  }

  /** Uses with the same number took the same pieces together: links of one run. A line of a shipment stands alone. */
  taker(use: number): number {
    return use < this.#links ? this.folder.links.run.at(use) : -1 - use;
  }

  /** When it was taken. */
  at(use: number): string {
    const { links, instants, shipmentLines, shipments } = this.folder;
    return use < this.#links ? (instants[links.at.at(use)] as string) : shipments[shipmentLines.shipment.at(use - this.#links)]!.at;
  }

  /** Where it stands in the files. */
  spot(use: number): { readonly file: string; readonly line: number; readonly column: string } {
    const { links, shipmentLines } = this.folder;
    if (use < this.#links) return { file: 'links.csv', line: links.line.at(use), column: 'from_lot' };
    return { file: 'shipments.csv', line: shipmentLines.line.at(use - this.#links), column: 'lot' };
  }

  /** What became of it, in words. */
  went(use: number): string {
    const { links, runs, shipmentLines, shipments } = this.folder;
    const { file, line } = this.spot(use);
    const into =
      use < this.#links
        ? `into run ${runs[links.run.at(use)]!.run}`
        : `with shipment ${shipments[shipmentLines.shipment.at(use - this.#links)]!.shipment}`;
    return `${into} (${file} line ${line})`;
  }

  /** The uses of one lot, in the order of the files. */
  ofLot(lot: number): Int32Array {
    return this.#byLot.rows.subarray(this.#byLot.starts[lot], this.#byLot.starts[lot + 1]);
  }
}
