import { Inject, Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { Refusal } from '../../../../shared/refusal.js';
import type { NonconformanceReport, ReportHold } from '../../documents/nonconformance.types.js';
import { nonconformanceSheet } from '../../documents/nonconformance.model.js';
import type { Sheet } from '../../documents/sheet.model.js';
import { inWords, writtenPieces, writtenQuantity, writtenSpans } from '../../../../shared/written.js';
import { countPieces } from '../../../../shared/spans.js';
import { entryAt, type StoredEntry } from '../../ledger/read.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { storedContent } from '../files/stored-content.query.js';
import { partiesAt } from '../recall/known-at.query.js';
import { say } from '../say.js';
import { factOf, knownFor } from '../telling/telling.query.js';
import { accountsOf, addsUp } from './adds-up.decide.js';
import { ReportConsignees } from './consignees.service.js';
import { digestOf, signingOf } from './disposition.query.js';
import { reportFiles } from './report-files.query.js';
import { defectNames, namesFor } from './report-names.query.js';
import { entriesNamingReport, everyHoldOf, type HoldOfReport, positionOf } from './report-position.query.js';
import { type Names, printedDisposition, printedLearning, printedPart, reportSignatures } from './report-printed.js';
import type { Disposition, Report } from './report-state.facts.js';
import { reportState } from './report.query.js';
import { type SignatureStanding, signatureStanding } from './review-rule.decide.js';
import type { Signing } from './settle.decide.js';

/** Writes nonconformance reports: everything in them is read as known at one ledger entry. */
@Injectable()
export class ReportPdfs {
  constructor(
    private readonly reader: Reader,
    private readonly consignees: ReportConsignees,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /**
   * A report as a sheet; the same years later.
   * @param asKnownAt ledger entry; left out: the last about the report and its holds
   * @throws Refusal if there is no such report, or was none at that entry
   * @see docs/rules/nonconformance.md NR-50
   */
  async sheet(code: string, asKnownAt?: number): Promise<Sheet> {
    const from = this.reader.manager;
    const whole = await reportState(from, code);
    if (!whole) throw new Refusal('unknown', [{ code: 'report-unknown', detail: `no nonconformance report ${code}`, report: code }]);
    const holds = await everyHoldOf(from, whole);
    const entry = await positionOf(from, code, whole, holds, asKnownAt);
    const report = (await reportState(from, code, entry.seq))!;
    const then = holds.filter((one) => one.placedSeq <= entry.seq);
    return nonconformanceSheet(await this.#printed(from, report, then, entry));
  }

  async #printed(from: EntityManager, report: Report, holds: readonly HoldOfReport[], entry: StoredEntry): Promise<NonconformanceReport> {
    const { fact, actor, at } = report.raised;
    const names = await namesFor(from, report, holds);
    const accounts = accountsOf(report);
    const signing = await signingOf(from, report);
    const defects = await defectNames(
      from,
      fact.defects.map((one) => one.defect),
      entry.seq,
    );
    return {
      plantName: this.config.plantName,
      report: report.report,
      state: inWords(report.state),
      severity: report.severity,
      source: fact.source.code === null ? inWords(fact.source.kind) : `${inWords(fact.source.kind)} ${fact.source.code}`,
      requirement: fact.requirement,
      found: fact.found,
      foundBy: names.person(fact.foundBy),
      foundAt: fact.foundAt,
      raisedBy: names.person(actor),
      raisedAt: at,
      defects: fact.defects.map(({ defect, count }) => ({ defect, name: defects.get(defect) ?? null, count })),
      measured: fact.measured,
      affected: report.affected.map((part) => printedPart(part, names)),
      judged: report.judged.map((one) => ({
        part: printedPart(one.fact.part, names),
        relation: inWords(one.fact.relation),
        affected: one.fact.affected,
        reason: one.fact.reason,
        by: names.person(one.actor),
        at: one.at,
      })),
      holds: holds.map((one) => printedHold(one, names, entry.seq)),
      consignees: await this.#consignees(from, report, entry.seq),
      review: report.review,
      accounts: accounts.map((one) => ({ ...one, unit: names.lot(one.lot).unit, numbered: one.openSpans !== null })),
      addsUp: addsUp(accounts),
      dispositions: report.dispositions.map((one) => printedDisposition(one, standingOf(one, report, signing.get(one.disposition)), names)),
      currency: this.config.currency,
      ...printedLearning(report, names),
      signatures: reportSignatures(report, names),
      timeline: await timelineOf(from, report, holds, entry.seq),
      files: await reportFiles(from, report, (file) => storedContent(this.config, file)),
      asKnownAt: { seq: entry.seq, at: entry.at, hash: entry.hash },
    };
  }

  /** Those who have affected goods, and those who were told although they have none any more. */
  async #consignees(from: EntityManager, report: Report, seq: number): Promise<NonconformanceReport['consignees']> {
    const having = new Map((await this.consignees.consigneesOf(from, report, seq)).map((one) => [one.customer, one]));
    const customers = [...new Set([...having.keys(), ...report.told.map((one) => one.fact.customer)])].toSorted();
    const parties = await partiesAt(from, customers, seq);
    return customers.map((customer) => ({
      customer,
      name: parties.get(customer)?.name ?? null,
      affectedPieces: having.get(customer)?.affectedPieces ?? 0,
      shipments: [...new Set((having.get(customer)?.shipments ?? []).map((one) => one.shipment))],
      told: report.told
        .filter((one) => one.fact.customer === customer)
        .map(({ actor, fact }) => ({ at: fact.toldAt, channel: fact.channel, what: fact.what, by: actor })),
      answers: report.answered
        .filter((one) => one.fact.customer === customer)
        .map(({ fact }) => ({ at: fact.answeredAt, answer: fact.answer })),
    }));
  }
}

/** One that was taken back waits for no signature; those on it are judged all the same. */
function standingOf(one: Disposition, report: Report, signing: Signing | undefined): SignatureStanding {
  const digest = digestOf(report, one);
  if (signing !== undefined) return signatureStanding(one, report, signing);
  const [valid, broken] = [true, false].map((holds) => one.signatures.filter(({ fact }) => (fact.digest === digest) === holds));
  return { valid: valid!, broken: broken!, lacks: [] };
}

function printedHold(one: HoldOfReport, names: Names, seq: number): ReportHold {
  const pieces = one.spans === null ? null : `${writtenPieces(countPieces(one.spans))}: ${writtenSpans(one.spans)}`;
  const quantity = one.quantityMicro === null ? 'all of it' : writtenQuantity(one.quantityMicro, names.lot(one.lot).unit);
  return {
    hold: one.hold,
    lot: one.lot,
    what: pieces ?? quantity,
    reason: one.reason,
    placedAt: one.placedAt,
    placedSeq: one.placedSeq,
    lifted: one.liftedSeq === null || one.liftedSeq > seq ? null : { seq: one.liftedSeq, reason: one.liftReason ?? '' },
  };
}

/** Every entry that names the report, or placed or lifted one of its holds, in plain words. */
async function timelineOf(
  from: EntityManager,
  report: Report,
  holds: readonly HoldOfReport[],
  seq: number,
): Promise<NonconformanceReport['timeline']> {
  const ofHolds = holds.flatMap((one) => [one.placedSeq, one.liftedSeq ?? one.placedSeq]);
  const seqs = [...new Set([...(await entriesNamingReport(from, report.report)), ...ofHolds])].filter((one) => one <= seq);
  const entries: StoredEntry[] = [];
  for (const one of seqs.toSorted((a, b) => a - b)) entries.push((await entryAt(from, one))!);
  const known = await knownFor(from, entries);
  return entries.map((entry) => ({ seq: entry.seq, at: entry.at, who: entry.actor, what: say(factOf(entry), known).says }));
}
