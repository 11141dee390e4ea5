import { Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { Reader } from '../../platform/database/reader.js';
import type { FindDto, FindView } from './find.dto.js';
import { findDocuments } from './find-documents.query.js';
import { findScanned, findStock } from './find-lots.query.js';
import { findNamed, itemFound, itemOfGtin } from './find-names.query.js';
import { bestOf, type Match } from './matching.js';

const DEFAULT_LIMIT = 20;

/** Finds anything by what was typed, scanned or pasted. Reads only. */
@Injectable()
export class FindService {
  constructor(private readonly reader: Reader) {}

  /** @throws Refusal when nothing is asked for */
  async find(asked: FindDto): Promise<FindView> {
    const limit = asked.limit ?? DEFAULT_LIMIT;
    if (asked.gtin !== undefined || asked.lot !== undefined || asked.serial !== undefined) return this.#scanned(asked, limit);
    const text = asked.text?.trim() ?? '';
    if (text === '') {
      throw new Refusal('malformed', [
        { code: 'nothing-to-find', detail: 'say what to find: text, or what a label says: gtin, lot, serial', pointer: '/text' },
      ]);
    }
    const from = this.reader.manager;
    const all = [...(await findStock(from, text, limit)), ...(await findDocuments(from, text, limit)), ...(await findNamed(from, text))];
    return { text, ...bestOf(all, limit) };
  }

  /** What a label says, exactly: never the lot of another item than the one its GTIN names. */
  async #scanned({ gtin, lot, serial }: FindDto, limit: number): Promise<FindView> {
    const from = this.reader.manager;
    const text = [gtin, lot, serial].filter((part) => part !== undefined).join(' ');
    const item = gtin === undefined ? undefined : await itemOfGtin(from, gtin);
    if (gtin !== undefined && item === undefined) return { text, found: [], total: 0 };
    const found: Match[] = await findScanned(from, { lot, serial }, item?.code);
    if (item !== undefined) found.push({ rank: 0, found: itemFound(item) });
    return { text, ...bestOf([{ matches: found, total: found.length }], limit) };
  }
}
