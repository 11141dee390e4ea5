import { Inject, Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { ImportReport } from '../../../../shared/api/imports.js';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock } from '../../platform/clock.js';
import { Reader } from '../../platform/database/reader.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { nextDocument } from '../stock/codes.query.js';
import { checkFolder, type Checked, refuseEarlier } from './check-folder.js';
import { Faults, FaultyFiles } from './faults.js';
import { countsOf, type Folder } from './folder.js';
import type { ImportView } from './import.dto.js';
import { importViews } from './import.query.js';
import { type OnProgress, readFolder } from './read-folder.js';
import { writeFolder } from './write-folder.js';

interface ImportOptions {
  readonly actor: Actor;
  /** Checks everything and writes nothing. */
  readonly dryRun?: boolean | undefined;
  readonly commandId?: string | undefined;
  readonly onProgress?: OnProgress | undefined;
}

/** Brings a folder of older records over: all of it or nothing. @see docs/rules/import.md */
@Injectable()
export class ImportService {
  #underWay = false;

  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
    private readonly index: GenealogyIndex,
    @Inject(Clock) private readonly clock: Clock,
  ) {}

  /**
   * Answers a report with `ok` false, and has written nothing, when the files have faults.
   * @throws Refusal when the same files were brought over before, or another import is under way
   */
  async importFolder(dir: string, options: ImportOptions): Promise<ImportReport> {
    if (this.#underWay) {
      throw new Refusal('conflict', [{ code: 'import-under-way', detail: 'another import is under way: try again when it has ended' }]);
    }
    this.#underWay = true;
    try {
      return await this.#import(dir, options);
    } finally {
      this.#underWay = false;
    }
  }

  /** Every import, newest first. */
  imports(): Promise<ImportView[]> {
    return importViews(this.reader.manager);
  }

  async #import(dir: string, options: ImportOptions): Promise<ImportReport> {
    const faults = new Faults();
    const onProgress = options.onProgress ?? (() => undefined);
    const folder = await readFolder(dir, faults, onProgress);
    if (options.dryRun === true || faults.count > 0) {
      await this.#check(this.reader.manager, folder, faults, this.clock.now(), onProgress);
      return reportOf(folder, faults, options.dryRun === true, null);
    }
    try {
      const { import: code, seq } = await this.#write(folder, faults, options, onProgress);
      await this.index.current();
      await this.index.saveSnapshot(); // so that the next start need not read every link
      return { ...reportOf(folder, faults, false, code), seq };
    } catch (error) {
      if (error instanceof FaultyFiles) return reportOf(folder, faults, false, null);
      throw error;
    }
  }

  async #check(tx: EntityManager, folder: Folder, faults: Faults, at: string, onProgress: OnProgress): Promise<Checked> {
    await refuseEarlier(tx, folder);
    return checkFolder({ tx, lineage: this.lineage, folder, faults, at, onProgress });
  }

  /** One command: what was checked is what is written, with nothing in between. */
  #write(
    folder: Folder,
    faults: Faults,
    { actor, commandId }: ImportOptions,
    onProgress: OnProgress,
  ): Promise<{ import: string; seq: number }> {
    const command = { commandId, files: folder.files };
    return this.commands.run(actor, command, async (tx, record, at) => {
      const checked = await this.#check(tx, folder, faults, at, onProgress);
      if (faults.count > 0) throw new FaultyFiles(faults.listed, faults.count);
      const code = await nextDocument(tx, 'import', 'IM');
      return { import: code, seq: await writeFolder(code, checked, record, onProgress) };
    });
  }
}

const reportOf = (folder: Folder, faults: Faults, dryRun: boolean, code: string | null): ImportReport => ({
  import: code,
  dryRun,
  ok: faults.count === 0,
  files: folder.files,
  counts: countsOf(folder),
  seq: null,
  faultCount: faults.count,
  faults: faults.listed,
});
