import { MAX_PIECE } from '../../../shared/spans.js';
import { type Adjacency, buildAdjacency, EMPTY_ADJACENCY } from './adjacency.js';
import { Delta } from './delta.js';
import { FROM_SIDE, LinkTable, LOT_MASK, STRIDE, TO_SIDE, VOIDED } from './link-table.js';
import { GenealogyFault, type KnownLink, type Link, linkFault, MAX_LOT } from './link.js';
import { LotMarks } from './lot-marks.js';

/** A point the index can be taken back to, for a transaction or savepoint that may still roll back. */
export interface Mark {
  readonly links: number;
  readonly undos: number;
}

/** What a rollback has to take back, other than links, which are simply cut off. */
type Undo = { readonly lot: number } | { readonly voided: number };

const NO_LOT = -1;
const MIN_DELTA = 10_000;
const MAX_DELTA = 200_000;

/**
 * Every link of the plant, in memory, both ways by lot. Links are appended in ledger order; the newest wait in a delta until
 * `compact` takes them into the packed rows. Readers see what is committed unless they ask otherwise.
 */
export class Genealogy {
  readonly table: LinkTable = new LinkTable();
  readonly delta: Delta = new Delta();
  readonly marks: LotMarks = new LotMarks();
  out: Adjacency = EMPTY_ADJACENCY;
  into: Adjacency = EMPTY_ADJACENCY;
  #pieces = new Int32Array(0);
  #blendsInto = new Uint8Array(0);
  #lotCount = 0;
  #committedSeq = 0;
  #newestSeq = 0;
  #undos: Undo[] = [];
  #compactions = 0;
  #compacting = 0;

  /** The greatest lot id known. */
  get lotCount(): number {
    return this.#lotCount;
  }

  get linkCount(): number {
    return this.table.count;
  }

  get committedSeq(): number {
    return this.#committedSeq;
  }

  /** True while links or voids wait to be committed or rolled back. */
  get hasUncommitted(): boolean {
    return this.#newestSeq > this.#committedSeq;
  }

  /** Pieces of a lot: 0 for a bulk lot, -1 for one that is not known. */
  piecesOf(lot: number): number {
    return this.#pieces[lot] ?? NO_LOT;
  }

  /**
   * Makes a lot known, before any link to or from it.
   * @param pieces the N of a numbered lot, 0 for bulk
   * @throws GenealogyFault if the id or count is out of range, or the lot is known with other pieces
   */
  addLot(lot: number, pieces: number): void {
    if (!Number.isInteger(lot) || lot < 1 || lot > MAX_LOT) throw new GenealogyFault(`lot id ${lot} is not within 1-${MAX_LOT}`);
    if (!Number.isInteger(pieces) || pieces < 0 || pieces > MAX_PIECE) throw new GenealogyFault(`lot ${lot} cannot have ${pieces} pieces`);
    const known = this.piecesOf(lot);
    if (known === pieces) return;
    if (known !== NO_LOT) throw new GenealogyFault(`lot ${lot} has ${known} pieces, not ${pieces}`);
    if (lot >= this.#pieces.length) this.#growLots(lot);
    this.#pieces[lot] = pieces;
    this.#lotCount = Math.max(this.#lotCount, lot);
    this.#undos.push({ lot });
  }

  /** @throws GenealogyFault if a lot is not known, the spans do not fit, or the link is not later than the last one */
  append(link: Link): void {
    const fault = linkFault(link, this.piecesOf(link.fromLot), this.piecesOf(link.toLot));
    if (fault !== null) throw new GenealogyFault(`link (${link.seq}, ${link.ord}): ${fault}`);
    if (link.seq <= this.#committedSeq) throw new GenealogyFault(`entry ${link.seq} is already committed, its links are complete`);
    const row = this.table.append(link);
    this.delta.push(row, link.fromLot, link.toLot);
    if (link.massMicro > 0) this.#blendsInto[link.toLot] = 1;
    if (link.seq > this.#newestSeq) this.#newestSeq = link.seq;
  }

  /**
   * The link stops counting from entry `voidedAtSeq` on; what was known before stays answerable.
   * @throws GenealogyFault if there is no such link or it is void already
   */
  voidLink(seq: number, ord: number, voidedAtSeq: number): void {
    const row = this.table.find(seq, ord);
    if (row < 0) throw new GenealogyFault(`there is no link (${seq}, ${ord}) to void`);
    if (this.table.voids.has(row)) throw new GenealogyFault(`link (${seq}, ${ord}) is void already`);
    if (voidedAtSeq < seq || voidedAtSeq <= this.#committedSeq)
      throw new GenealogyFault(`entry ${voidedAtSeq} cannot void link (${seq}, ${ord})`);
    this.table.setVoid(row, voidedAtSeq);
    this.#undos.push({ voided: row });
    if (voidedAtSeq > this.#newestSeq) this.#newestSeq = voidedAtSeq;
  }

  mark(): Mark {
    return { links: this.table.count, undos: this.#undos.length };
  }

  /** @throws GenealogyFault if something after the mark is committed */
  rollbackTo(mark: Mark): void {
    if (mark.links > this.table.count || mark.undos > this.#undos.length || mark.links < this.#committedLinks()) {
      throw new GenealogyFault('the mark is not within what is uncommitted');
    }
    const { table } = this;
    for (let link = table.count - 1; link >= mark.links; link--) {
      const word = link * STRIDE;
      this.delta.pop(link, (table.words[word] ?? 0) & LOT_MASK, table.words[word + 3] ?? 0);
    }
    while (this.#undos.length > mark.undos) this.#undo(this.#undos.pop());
    table.truncate(mark.links);
    this.#newestSeq = this.#committedSeq;
    if (table.count > 0) this.#newestSeq = Math.max(this.#newestSeq, table.seqAt(table.count - 1));
    for (const undo of this.#undos) {
      if ('voided' in undo) this.#newestSeq = Math.max(this.#newestSeq, table.voids.get(undo.voided) ?? 0);
    }
  }

  /** Entries up to `seq` are committed: readers see them and nothing takes them back. */
  commitUpTo(seq: number): void {
    if (seq < this.#committedSeq) throw new GenealogyFault(`entry ${this.#committedSeq} is committed, ${seq} is before it`);
    this.#committedSeq = seq;
    if (this.#newestSeq <= seq) this.#undos = [];
  }

  /** How many links, from the first, exist for one who knows the ledger up to `asKnownAt`. */
  countKnownAt(asKnownAt: number): number {
    return this.table.countUpTo(asKnownAt);
  }

  /** The links on one side of a lot, in ledger order; for pictures and reports, not for walking. */
  linksOf(lot: number, side: 'out' | 'into', asKnownAt: number = this.#committedSeq): KnownLink[] {
    const limit = this.countKnownAt(asKnownAt);
    const rows: number[] = [];
    this.eachRow(lot, side, (row) => {
      if (row < limit && !this.isVoid(row, asKnownAt)) rows.push(row);
    });
    return rows.toSorted((a, b) => a - b).map((row) => this.table.read(row));
  }

  /** Every row on one side of a lot, in no promised order, whenever recorded and whether void or not. */
  eachRow(lot: number, side: 'out' | 'into', visit: (row: number) => void): void {
    const adjacency = this[side];
    if (lot <= adjacency.lots) {
      const end = adjacency.starts[lot + 1] ?? 0;
      for (let at = adjacency.starts[lot] ?? 0; at < end; at++) visit(adjacency.order[at] ?? 0);
    }
    const { base } = this.delta;
    const heads = side === 'out' ? this.delta.outHeads : this.delta.inHeads;
    const next = side === 'out' ? this.delta.outNext : this.delta.inNext;
    for (let row = heads[lot] ?? -1; row >= base; row = next[row - base] ?? -1) visit(row);
  }

  isVoid(row: number, asKnownAt: number): boolean {
    return ((this.table.words[row * STRIDE] ?? 0) & VOIDED) !== 0 && (this.table.voids.get(row) ?? 0) <= asKnownAt;
  }

  /** False only if no blending link ever led into the lot. */
  mayBlendInto(lot: number): boolean {
    return this.#blendsInto[lot] === 1;
  }

  /** True when enough links wait in the delta that `compact` pays. */
  get wantsCompaction(): boolean {
    if (this.#compacting > 0) return false;
    const waiting = this.table.count - this.delta.base;
    return waiting > Math.min(MAX_DELTA, Math.max(MIN_DELTA, this.delta.base * 0.08)) && this.#committedLinks() > this.delta.base;
  }

  /** Takes the committed links of the delta into the packed rows. What is uncommitted stays in the delta and can roll back. */
  compact(): void {
    const slices = this.#compaction();
    while (!slices.next().done);
  }

  /** As `compact`, giving way between slices of a few milliseconds; appends, rollbacks and questions may come in between. */
  async compactInSlices(giveWay: () => Promise<void>): Promise<void> {
    for (const _ of this.#compaction()) await giveWay();
  }

  /** Bytes of every array of the index. */
  get byteLength(): number {
    const packed = [this.out, this.into].reduce(
      (sum, side) => sum + side.starts.byteLength + side.shorts.byteLength + side.order.byteLength,
      0,
    );
    const lots = this.#pieces.byteLength + this.#blendsInto.byteLength + this.marks.byteLength;
    return this.table.byteLength + packed + this.delta.byteLength + lots;
  }

  /** Takes over what a snapshot holds; only for an index that is still empty. */
  adopt(packed: { pieces: Int32Array; out: Adjacency; into: Adjacency; seq: number }): void {
    if (this.#lotCount > 0) throw new GenealogyFault('the index is not empty');
    this.#lotCount = Math.max(0, packed.pieces.length - 1);
    this.#growLots(this.#lotCount);
    this.#pieces.set(packed.pieces);
    this.out = packed.out;
    this.into = packed.into;
    this.delta.base = packed.out.links;
    for (let row = 0; row < this.table.count; row++) {
      if (this.table.massAt(row) > 0) this.#blendsInto[this.table.words[row * STRIDE + 3] ?? 0] = 1;
    }
    this.#committedSeq = packed.seq;
    this.#newestSeq = packed.seq;
  }

  #committedLinks(): number {
    return this.countKnownAt(this.#committedSeq);
  }

  #undo(undo: Undo | undefined): void {
    if (undo === undefined) return;
    if ('voided' in undo) {
      this.table.clearVoid(undo.voided);
      return;
    }
    this.#pieces[undo.lot] = NO_LOT;
    while (this.#lotCount > 0 && this.#pieces[this.#lotCount] === NO_LOT) this.#lotCount--;
  }

  #growLots(lot: number): void {
    const capacity = Math.max(lot + 1, Math.ceil(this.#pieces.length * 1.25), 256);
    const pieces = new Int32Array(capacity).fill(NO_LOT);
    const blendsInto = new Uint8Array(capacity);
    pieces.set(this.#pieces);
    blendsInto.set(this.#blendsInto);
    this.#pieces = pieces;
    this.#blendsInto = blendsInto;
    this.delta.cover(lot);
  }

  *#compaction(): Generator<void, void> {
    const links = this.#committedLinks();
    if (links <= this.delta.base) return;
    const turn = ++this.#compactions;
    this.#compacting++;
    try {
      const out = yield* buildAdjacency(this.table.words, links, this.#lotCount, FROM_SIDE);
      const into = yield* buildAdjacency(this.table.words, links, this.#lotCount, TO_SIDE);
      if (turn !== this.#compactions) return; // a later compaction overtook this one while it gave way
      this.out = out;
      this.into = into;
      this.delta.rebase(links, this.table.count);
    } finally {
      this.#compacting--;
    }
  }
}
