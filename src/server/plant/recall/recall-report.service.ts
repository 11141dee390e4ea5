import { Injectable } from '@nestjs/common';
import type { Writable } from 'node:stream';
import { Refusal } from '../../../../shared/refusal.js';
import { formatSpans, sameSpans } from '../../../../shared/spans.js';
import { writeSheetPdf } from '../../documents/pdf/write-sheet.js';
import { recallSheet } from '../../documents/recall-report.model.js';
import type { RecallReport } from '../../documents/recall-report.types.js';
import { Reader } from '../../platform/database/reader.js';
import { sharesOf } from '../../trace/shares.js';
import type { Traced } from '../../trace/traced.js';
import type { Affected } from './affected.js';
import { amountsIn } from './amounts.js';
import { affectedLotList, differencesOf, scopeTotals } from './affected-lots.js';
import { type Figures, figuresAt } from './figures.query.js';
import { knownLots, serialsOf } from './known-at.query.js';
import { runsOfLinks } from './links.query.js';
import { MOST_LINKS, writtenNarrowings } from './narrowings.js';
import { productIdentities } from './products.js';
import { frozenParts, type RecallRecord, recallRecord, type ScopeVersion } from './recall.query.js';
import type { ScopeName, ScopePart } from './recall.facts.js';
import { affectedIn, RecallScopes, type TracedScopes } from './recall-scopes.service.js';
import { lotsForRibbons, recallRibbons } from './ribbons.js';
import { recallRiver } from './river.js';
import { runsInProcessAt } from './runs.query.js';
import { standingAt } from './standing.query.js';
import { RecallStatuses } from './status.service.js';
import { decisionsAt, timelineAt } from './timeline.query.js';
import { lotIds } from '../stock/lot-ids.query.js';

/** A version of a recall's scope with everything known about it at its entry. */
interface FrozenRecall {
  readonly record: RecallRecord;
  readonly version: ScopeVersion;
  readonly scopes: TracedScopes;
  /** Of the chosen scope. */
  readonly figures: Figures;
  readonly consigneesOf: Readonly<Record<ScopeName, number>>;
  readonly parts: Readonly<Record<ScopeName, Affected>>;
}

/** Writes recall reports: everything in them is read as known at the entry the scope was frozen at. */
@Injectable()
export class RecallReports {
  constructor(
    private readonly scopes: RecallScopes,
    private readonly reader: Reader,
    private readonly statuses: RecallStatuses,
  ) {}

  /**
   * All that the report of a recall says, as plain values; the same years later.
   * @param version of its scope; left out: the latest, or the one acted on at `asKnownAt`
   * @param asKnownAt entry as known at which it tells how far the recall has come; left out: it tells of the scope alone
   * @throws Refusal if there is no such recall, version or entry
   * @see docs/rules/recall.md RL-22
   */
  async recallReport(number: string, version?: number, asKnownAt?: number): Promise<RecallReport> {
    const progress = asKnownAt === undefined ? undefined : await this.statuses.status(number, asKnownAt);
    const frozen = await this.frozen(number, version ?? progress?.version);
    const { record, version: scope, scopes, figures } = frozen;
    const from = this.reader.manager;
    const { genealogy, seq } = scopes;
    const standing = await standingAt(from, genealogy, [...figures.affected.keys()], seq, scope.knownAt.slice(0, 10));
    const chosen = scope.chosen === 'narrow' ? scopes.narrow : scopes.conservative;
    const shares = sharesOf(genealogy, scopes.narrow, scopes.origins).byLot;
    const lots = await knownLots(from, [...frozen.parts.conservative.keys()]);
    const totals = (name: ScopeName) => scopeTotals(frozen.parts[name], lots, frozen.consigneesOf[name]);
    return {
      plantName: scope.printed.plantName,
      recall: { ...headOf(record, scope), ...(progress ? { status: progress.status, class: progress.strategy?.class ?? null } : {}) },
      asKnownAt: { seq: scope.knownSeq, at: scope.knownAt, hash: scope.knownHash },
      madeAt: progress?.asKnownAt.at ?? scope.frozenAt,
      products: productIdentities(figures, await serialsOf(from, [...figures.affected.keys()])),
      amounts: amountsIn(figures, standing),
      scopes: { chosen: scope.chosen, narrow: totals('narrow'), conservative: totals('conservative') },
      narrowings: await this.narrowings(scopes),
      affectedLots: affectedLotList(figures, standing, depthsOf(chosen), shares),
      consignees: figures.consignees,
      whereabouts: figures.whereabouts,
      differences: differencesOf(figures),
      inProcess: await runsInProcessAt(from, figures),
      river: recallRiver(figures, (lot) => genealogy.linksOf(lot, 'into', seq)),
      ribbons: await this.#ribbons(figures, scopes, standing.holds),
      timeline: await this.#timeline(figures, record, scope),
      decisions: await decisionsAt(from, figures),
      cautions: cautionsOf(frozen),
      ...(progress ? { progress } : {}),
    };
  }

  /**
   * Writes the report as PDF and ends the stream.
   * @param open is asked for the stream once it is sure that there is a report
   */
  async writeReport(number: string, open: () => Writable, version?: number, asKnownAt?: number): Promise<{ pages: number }> {
    const sheet = recallSheet(await this.recallReport(number, version, asKnownAt));
    return writeSheetPdf(sheet, open());
  }

  /** A version of a scope as frozen, traced again as known at its entry. */
  async frozen(number: string, wanted?: number): Promise<FrozenRecall> {
    const from = this.reader.manager;
    const record = await recallRecord(from, number);
    if (!record) throw new Refusal('unknown', [{ code: 'recall-unknown', detail: `no recall ${number}`, recall: number }]);
    const version = wanted === undefined ? record.versions.at(-1) : record.versions.find((each) => each.version === wanted);
    if (!version) {
      const last = record.versions.length;
      throw new Refusal('unknown', [
        { code: 'version-unknown', detail: `${number} has scope versions 1 to ${last}`, recall: number, last },
      ]);
    }
    const ids = await lotIds(
      from,
      version.origin.map((part) => part.lot),
    );
    const origins = version.origin.map((part) => ({ lot: ids.get(part.lot)!, spans: part.spans }));
    const scopes = await this.scopes.again(origins, version.knownSeq);
    const parts = {
      narrow: await frozenParts(from, number, version.version, 'narrow'),
      conservative: await frozenParts(from, number, version.version, 'conservative'),
    };
    const narrow = await figuresAt(from, parts.narrow, version.knownSeq);
    const conservative = await figuresAt(from, parts.conservative, version.knownSeq);
    return {
      record,
      version,
      scopes,
      figures: version.chosen === 'narrow' ? narrow : conservative,
      consigneesOf: { narrow: narrow.consignees.length, conservative: conservative.consignees.length },
      parts,
    };
  }

  /** Where the narrow scope is smaller, with the links that say so. */
  async narrowings({ narrowings, conservative }: TracedScopes): Promise<RecallReport['narrowings']> {
    const from = this.reader.manager;
    const lots = await knownLots(from, [...affectedIn(conservative).keys()]);
    const runs = await runsOfLinks(
      from,
      narrowings.flatMap((narrowing) => narrowing.links.slice(0, MOST_LINKS)),
    );
    return writtenNarrowings(narrowings, lots, runs);
  }

  async #ribbons(figures: Figures, { genealogy, seq }: TracedScopes, holds: Parameters<typeof recallRibbons>[1]['holds']) {
    const linksInto = (lot: number) => genealogy.linksOf(lot, 'into', seq);
    const from = lotsForRibbons(figures).flatMap((lot) => linksInto(lot.id).map((link) => link.fromLot));
    return recallRibbons(figures, { linksInto, sources: await knownLots(this.reader.manager, [...new Set(from)]), holds });
  }

  /** What happened to the goods, then how the scope came to be; later versions are not part of this one's report. */
  async #timeline(figures: Figures, record: RecallRecord, until: ScopeVersion): Promise<RecallReport['timeline']> {
    const frozen = record.versions
      .filter(({ seq }) => seq <= until.seq)
      .map(({ version, seq, frozenAt, frozenBy, knownSeq, chosen, reason }) => ({
        seq,
        at: frozenAt,
        who: frozenBy,
        what: `${version === 1 ? `${record.drill ? 'Recall drill' : 'Recall'} ${record.recall} opened` : `Scope of ${record.recall} traced again as version ${version}`}, ${chosen}, as known at entry ${knownSeq}: ${reason}`,
      }));
    return [...(await timelineAt(this.reader.manager, figures)), ...frozen];
  }
}

const depthsOf = (traced: Traced): Map<number, number> => new Map(traced.lots.map(({ lot, depth }) => [lot, depth]));

function headOf(record: RecallRecord, version: ScopeVersion): RecallReport['recall'] {
  return {
    number: record.recall,
    drill: record.drill,
    status: 'open',
    title: record.title,
    what: record.what,
    why: record.reason,
    hazard: record.hazard,
    class: null,
    instruction: record.instruction,
    contact: record.contact,
    origin: originInWords(version.origin),
    openedBy: record.openedBy,
    openedAt: record.openedAt,
  };
}

const originInWords = (origin: readonly ScopePart[]): string =>
  `forward from ${origin.map(({ lot, spans }) => (spans === null ? `lot ${lot}` : `pieces ${formatSpans(spans)} of lot ${lot}`)).join(' and ')}`;

/** What a reader of this report must know besides the standing cautions. */
function cautionsOf({ record, version, scopes, parts }: FrozenRecall): string[] {
  const named = {
    recall: 'a recall',
    correction: 'a correction',
    'market-withdrawal': 'a market withdrawal',
    'stock-recovery': 'a stock recovery',
  };
  const same = sameParts(parts.narrow, affectedIn(scopes.narrow)) && sameParts(parts.conservative, affectedIn(scopes.conservative));
  return [
    `This is recorded as ${named[record.type]}. Why only these lots: ${version.reason}`,
    `Lot codes are given here at receipt or at making, by the pattern ${version.printed.lotPattern}: {class} is a letter of the kind of product, {yy} the year, ` +
      '{n} a running number. Case, leading zeros and punctuation count. Packs with another lot code, or with a number or serial that is not ' +
      'listed, are not in this scope.',
    ...(version.version > 1 ? [`This is version ${version.version} of the scope; earlier versions have reports of their own.`] : []),
    ...(same ? [] : ['Traced again as known at its entry, the scope is not what was frozen. The record has been changed: run verify.']),
  ];
}

const sameParts = (a: Affected, b: Affected): boolean =>
  a.size === b.size &&
  [...a].every(([lot, spans]) => {
    const other = b.get(lot);
    return other !== undefined && (spans === null || other === null ? spans === other : sameSpans(spans, other));
  });
