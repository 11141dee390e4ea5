import { createWriteStream } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { formatQuantity } from '../../shared/quantity.js';
import { MICRO } from './plant-book.js';
import { generatePlant } from './plant-generator.js';
import type { Plant, PlantSize } from './plant.js';

const BEGIN = Date.UTC(2015, 0, 1);
const instant = (minutes: number): string => new Date(BEGIN + minutes * 60_000).toISOString();
const CHUNK = 64 * 1024;

/**
 * Writes a generated plant as the folder of CSV files that `import` takes: parties, items, lots, links and shipments.
 * Generated codes and names hold neither commas nor quotes.
 * @returns the plant written, to know what to ask of it
 */
export async function writeImportFolder(dir: string, size: PlantSize): Promise<Plant> {
  const plant = generatePlant(size);
  await mkdir(dir, { recursive: true });
  await write(dir, 'parties.csv', partyRows(plant));
  await write(dir, 'items.csv', itemRows(plant));
  await write(dir, 'lots.csv', lotRows(plant));
  await write(dir, 'links.csv', linkRows(plant));
  await write(dir, 'shipments.csv', shipmentRows(plant));
  return plant;
}

async function write(dir: string, file: string, rows: Iterable<string>): Promise<void> {
  await pipeline(Readable.from(chunksOf(rows)), createWriteStream(join(dir, file)));
}

function* chunksOf(rows: Iterable<string>): Generator<string> {
  let chunk = '';
  for (const row of rows) {
    chunk += `${row}\n`;
    if (chunk.length < CHUNK) continue;
    yield chunk;
    chunk = '';
  }
  yield chunk;
}

function* partyRows({ suppliers, customers }: Plant): Generator<string> {
  yield 'code,name,role,gln,contact';
  for (const code of suppliers) yield `${code},Supplier ${code},supplier,,`;
  for (const code of customers) yield `${code},Bicycle workshop ${code},customer,,recall@${code.toLowerCase()}.example`;
}

function* itemRows({ items }: Plant): Generator<string> {
  yield 'code,name,class,unit,gtin,density_kg_per_l,shelf_life_days';
  for (const item of items) yield `${item.code},${item.name},${item.class},${item.unit},,,`;
}

function* lotRows({ lots }: Plant): Generator<string> {
  yield 'lot,item,quantity,pieces,origin,at,supplier,supplier_lot,expires_on,status';
  for (const { code, item, quantityMicro, pieces, received, at, supplier, id } of lots) {
    const origin = received ? `received,${instant(at)},${supplier},${supplier}/${id}` : `made,${instant(at)},,`;
    yield `${code},${item},${formatQuantity(quantityMicro)},${pieces === 0 ? '' : pieces},${origin},,released`;
  }
}

function* linkRows({ runs, links, lots }: Plant): Generator<string> {
  yield 'run,kind,at,from_lot,from_first,from_last,to_lot,to_first,to_last,quantity,map';
  const code = (lot: number | undefined): string => lots[(lot ?? 0) - 1]?.code ?? '';
  const side = (lot: number | undefined, first: number | undefined, last: number | undefined): string =>
    first === 0 ? `${code(lot)},,` : `${code(lot)},${first},${last}`;
  for (const [at, run] of runs.entries()) {
    const end = runs[at + 1]?.firstLink ?? links.count;
    const head = `${run.code},${run.kind},${instant(run.at)}`;
    for (let row = run.firstLink; row < end; row++) {
      const from = side(links.fromLot[row], links.fromFirst[row], links.fromLast[row]);
      const to = side(links.toLot[row], links.toFirst[row], links.toLast[row]);
      yield `${head},${from},${to},${formatQuantity(links.quantityMicro[row] ?? 0)},${links.each[row] ? 'each' : 'all'}`;
    }
  }
}

function* shipmentRows({ lines, customers }: Plant): Generator<string> {
  yield 'shipment,customer,at,lot,first,last,quantity';
  for (const { shipment, customer, at, lot, first, last } of lines) {
    const quantity = formatQuantity((last - first + 1) * MICRO);
    yield `D-${String(shipment).padStart(6, '0')},${customers[customer] ?? ''},${instant(at)},${lot.code},${first},${last},${quantity}`;
  }
}
