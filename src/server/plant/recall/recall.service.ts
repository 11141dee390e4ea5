import { Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import type { Writable } from 'node:stream';
import { Reasons } from '../../../../shared/refusal.js';
import type { RecallReport } from '../../documents/recall-report.types.js';
import { ledgerHead } from '../../ledger/read.js';
import { Reader } from '../../platform/database/reader.js';
import { Commands, type RecordFacts } from '../commands.js';
import type { Actor } from '../people/access.js';
import { nextDocument } from '../stock/codes.query.js';
import { affectedLotList, scopeTotals } from './affected-lots.js';
import { amountsIn } from './amounts.js';
import { figuresAt } from './figures.query.js';
import { knownLots } from './known-at.query.js';
import { decideOpenRecall, decideRescope, type RecallState } from './recall.decide.js';
import type { OpenRecallDto, RecallHeadView, RecallScopeDto, RecallView } from './recall.dto.js';
import { checkOpen } from './open.decide.js';
import { knownReports, progressOf } from './progress.query.js';
import { headView, latestVersion, recallRecords } from './recall.query.js';
import { RecallReports } from './recall-report.service.js';
import { affectedIn, RecallScopes } from './recall-scopes.service.js';
import { amountView, consigneeViews, lotView, reconciliationView, totalsView } from './recall-view.js';
import { standingAt } from './standing.query.js';
import { decideLinkReports } from './strategy.decide.js';

@Injectable()
export class RecallService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly scopes: RecallScopes,
    private readonly reports: RecallReports,
  ) {}

  /** The scope is traced before the command: as known at an entry it can no longer change. */
  async open(actor: Actor, dto: OpenRecallDto): Promise<RecallView> {
    const state = await this.#traced(dto);
    const { recall } = await this.commands.run(actor, dto, async (tx, record) => {
      const code = await nextDocument(tx, 'recall', 'RC');
      const { reports = [] } = dto;
      const linked = reports.length === 0 ? [] : [decideLinkReports(code, reports, await knownReports(tx, reports))];
      await record([decideOpenRecall(dto, { ...state, recall: code }), ...linked]);
      return { recall: code };
    });
    return this.recall(recall);
  }

  /** Widens or narrows the scope: it is traced again and becomes the next version. */
  async rescope(actor: Actor, number: string, dto: RecallScopeDto): Promise<RecallView> {
    const { record } = await this.reports.frozen(number);
    const state = await this.#traced(dto);
    await this.commands.run(actor, { ...dto, recall: number } as RecallScopeDto, (tx, write) =>
      this.#nextVersion(tx, write, dto.reason, { ...state, recall: number, type: record.type }),
    );
    return this.recall(number);
  }

  async recalls(): Promise<RecallHeadView[]> {
    const from = this.reader.manager;
    const records = await recallRecords(from);
    const progress = await progressOf(
      from,
      records.map(({ recall }) => recall),
    );
    return records.map((record) => headView(record, progress.get(record.recall)!));
  }

  /** A recall with its figures as frozen and as of now. */
  async recall(number: string, wanted?: number): Promise<RecallView> {
    const from = this.reader.manager;
    const { record, version, scopes, figures, consigneesOf, parts } = await this.reports.frozen(number, wanted);
    const ids = [...figures.affected.keys()];
    const standing = await standingAt(from, scopes.genealogy, ids, version.knownSeq, version.knownAt.slice(0, 10));
    const chosen = version.chosen === 'narrow' ? scopes.narrow : scopes.conservative;
    const lots = affectedLotList(figures, standing, new Map(chosen.lots.map(({ lot, depth }) => [lot, depth])), new Map());
    const now = await figuresAt(from, figures.affected, (await ledgerHead(from)).seq);
    const known = await knownLots(from, [...parts.conservative.keys()]);
    return {
      ...headView(record, (await progressOf(from, [number])).get(number)!),
      version: version.version,
      narrow: totalsView(scopeTotals(parts.narrow, known, consigneesOf.narrow)),
      conservative: totalsView(scopeTotals(parts.conservative, known, consigneesOf.conservative)),
      narrowings: (await this.reports.narrowings(scopes)).map(({ lot, piecesOfLot, spans, evidence }) => ({
        lot,
        spans: piecesOfLot === 0 ? null : (spans as unknown as number[][]),
        evidence: [...evidence],
      })),
      lots: lots.map(lotView),
      consignees: consigneeViews(figures.consignees, now.consignees),
      amounts: amountsIn(figures, standing).map(amountView),
      reconciliation: reconciliationView(figures, lots),
      reconciliationNow: reconciliationView(now, lots),
    };
  }

  recallReport(number: string, version?: number, asKnownAt?: number): Promise<RecallReport> {
    return this.reports.recallReport(number, version, asKnownAt);
  }

  writeReport(number: string, open: () => Writable, version?: number, asKnownAt?: number): Promise<{ pages: number }> {
    return this.reports.writeReport(number, open, version, asKnownAt);
  }

  async #traced(dto: RecallScopeDto): Promise<Omit<RecallState, 'recall'>> {
    const traced = await this.scopes.trace(dto.origin, dto.asKnownAt);
    const chosen = dto.scope === 'narrow' ? traced.narrow : traced.conservative;
    const { consignees } = await figuresAt(this.reader.manager, affectedIn(chosen), traced.seq);
    return { scope: await this.scopes.freeze(traced, dto.scope), consignees: consignees.map(({ code }) => code) };
  }

  async #nextVersion(
    tx: EntityManager,
    write: RecordFacts,
    reason: string,
    state: Omit<Parameters<typeof decideRescope>[1], 'version'>,
  ): Promise<{ version: number }> {
    const no = new Reasons();
    checkOpen(no, (await progressOf(tx, [state.recall])).get(state.recall)!);
    no.throwIfAny();
    const version = await latestVersion(tx, state.recall);
    await write([decideRescope(reason, { ...state, version })]);
    return { version: version + 1 };
  }
}
