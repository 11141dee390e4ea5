import { Inject, Injectable, type OnModuleDestroy, type OnModuleInit } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { queryRows } from '../platform/database/rows.js';
import { CONFIG, type Config } from '../platform/config.js';
import { CommandGate, type GroupWatcher } from '../platform/database/gate.js';
import { Reader } from '../platform/database/reader.js';
import type { Genealogy, Mark } from './genealogy.js';
import { type LotPart, Lineage } from './lineage.js';
import { loadLinks, loadLots, loadVoids, type LotCard } from './load.query.js';
import { readSnapshot, writeSnapshot } from './snapshot-file.js';
import type { Traced } from './traced.js';
import { traceBackward, traceForward } from './walk.js';

interface IndexMark {
  readonly genealogy: Mark;
  readonly seen: number;
}

/**
 * The genealogy of the plant in memory, kept up with the database: built at start from a snapshot and the rows after it, and before
 * every question from the rows that came since. Entries commit in order of `seq`, so "greater than the last one seen" is complete,
 * also when several server processes write to one database.
 */
@Injectable()
export class GenealogyIndex extends Lineage implements GroupWatcher, OnModuleInit, OnModuleDestroy {
  /** Lots by id; the place of id 0 is empty. */
  readonly cards: LotCard[] = [];
  #genealogy!: Genealogy;
  /** The last entry whose links have been read, committed or not. */
  #seen = 0;
  #groupStart: IndexMark | null = null;
  /** Resolves when nothing is reading rows into the index. */
  #reading: Promise<void> = Promise.resolve();
  #snapshotSeq = 0;
  #compacting: Promise<void> = Promise.resolve();

  constructor(
    private readonly reader: Reader,
    private readonly gate: CommandGate,
    @Inject(CONFIG) private readonly config: Config,
  ) {
    super();
  }

  async onModuleInit(): Promise<void> {
    this.#genealogy = await readSnapshot(this.config, this.reader.manager);
    this.#seen = this.#genealogy.committedSeq;
    this.#snapshotSeq = this.#seen;
    await this.#exclusively(() => this.#readUp(this.reader.manager));
    this.#genealogy.commitUpTo(this.#seen);
    this.#genealogy.compact();
    this.gate.watch(this);
  }

  async onModuleDestroy(): Promise<void> {
    await this.#reading;
    await this.#compacting;
    await this.saveSnapshot();
  }

  /** Packs what is committed beside the database, so that the next start need not read every link. */
  async saveSnapshot(): Promise<void> {
    if (this.#genealogy.committedSeq === this.#snapshotSeq || this.#groupStart) return;
    await writeSnapshot(this.config, this.reader.manager, this.#genealogy);
    this.#snapshotSeq = this.#genealogy.committedSeq;
  }

  /** The index with every committed entry in it, for questions outside commands. */
  async current(): Promise<Genealogy> {
    await this.#reading; // a group that is under way has read what was committed before it
    if (!this.#groupStart) {
      await this.#exclusively(async () => {
        if (this.#groupStart) return;
        await this.#readUp(this.reader.manager);
        this.#genealogy.commitUpTo(this.#seen);
      });
    }
    this.#compactAside();
    return this.#genealogy;
  }

  override async ancestors(tx: EntityManager, part: LotPart): Promise<readonly LotPart[]> {
    const { genealogy, asKnownAt } = await this.#within(tx);
    return partsOf(traceBackward(genealogy, [{ lot: part.lotId, spans: part.spans }], { asKnownAt }));
  }

  override async descendants(tx: EntityManager, part: LotPart): Promise<readonly LotPart[]> {
    const { genealogy, asKnownAt } = await this.#within(tx);
    return partsOf(traceForward(genealogy, [{ lot: part.lotId, spans: part.spans }], { asKnownAt }));
  }

  async begun(tx: EntityManager): Promise<void> {
    await this.#exclusively(async () => {
      await this.#readUp(tx);
      this.#genealogy.commitUpTo(this.#seen);
      this.#groupStart = this.mark();
    });
  }

  mark(): IndexMark {
    return { genealogy: this.#genealogy.mark(), seen: this.#seen };
  }

  undo(mark: IndexMark): void {
    this.#genealogy.rollbackTo(mark.genealogy);
    this.cards.length = Math.min(this.cards.length, this.#genealogy.lotCount + 1);
    this.#seen = mark.seen;
  }

  committed(): void {
    this.#genealogy.commitUpTo(this.#seen);
    this.#groupStart = null;
  }

  rolledBack(): void {
    if (this.#groupStart) this.undo(this.#groupStart);
    this.#groupStart = null;
  }

  /** Packs what waits in the delta, in slices between which everything else goes on. */
  #compactAside(): void {
    if (!this.#genealogy.wantsCompaction) return;
    this.#compacting = this.#genealogy.compactInSlices(() => new Promise(setImmediate));
  }

  /** A command sees the links of its own transaction, those of its forerunners included; a reader what is committed. */
  async #within(tx: EntityManager): Promise<{ genealogy: Genealogy; asKnownAt: number }> {
    if (!this.#groupStart || tx === this.reader.manager) {
      const genealogy = await this.current();
      return { genealogy, asKnownAt: genealogy.committedSeq };
    }
    await this.#exclusively(() => this.#readUp(tx));
    return { genealogy: this.#genealogy, asKnownAt: Infinity };
  }

  async #exclusively(work: () => Promise<void>): Promise<void> {
    const run = this.#reading.then(work);
    this.#reading = run.catch(() => undefined);
    await run;
  }

  async #readUp(from: EntityManager): Promise<void> {
    const [head] = await queryRows<{ seq: number }>(from, 'SELECT "seq" FROM "ledger_head" WHERE "id" = 1');
    const upTo = head?.seq ?? 0;
    if (upTo < this.#seen || (upTo === this.#seen && this.cards.length > this.#genealogy.lotCount)) return;
    const before = this.mark();
    try {
      await loadLots(from, this.#genealogy, this.cards, upTo);
      if (upTo === this.#seen) return;
      await loadLinks(from, this.#genealogy, this.#seen, upTo);
      await loadVoids(from, this.#genealogy, this.#seen, upTo);
      this.#seen = upTo;
    } catch (error) {
      this.undo(before); // else the next reading would meet links it has already
      throw error;
    }
  }
}

const partsOf = (traced: Traced): LotPart[] =>
  traced.reachedByLinks().map(({ lot, spans, again }) => ({ lotId: lot, spans: again ? again.spans : spans }));
