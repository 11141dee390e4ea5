import { MICRO } from '../shared/quantity.js';
import { Reasons, Refusal } from '../shared/refusal.js';
import { countPieces, intersectSpans, type SpanSet, subtractSpans } from '../shared/spans.js';
import type { SeverityClass } from '../src/server/plant/catalogue/inspection-plan.facts.js';
import type { HoldPlacedByRule } from '../src/server/plant/holds/holds.facts.js';
import type { InspectionOpened } from '../src/server/plant/inspection/inspection.facts.js';
import { decideCarryOut } from '../src/server/plant/nonconformance/carry-out.decide.js';
import { decideCloseReport } from '../src/server/plant/nonconformance/close.decide.js';
import { decideSign, decideWithdrawDisposition } from '../src/server/plant/nonconformance/disposition.decide.js';
import { grantKey, spentOf } from '../src/server/plant/nonconformance/grants.decide.js';
import type { Grant } from '../src/server/plant/nonconformance/grants.facts.js';
import type { ReportFact } from '../src/server/plant/nonconformance/nonconformance.facts.js';
import type { HoldChange, HoldsState } from '../src/server/plant/nonconformance/outcome-holds.decide.js';
import { decidePropose, type Propose } from '../src/server/plant/nonconformance/propose.decide.js';
import { type Disposition, type Report, type ReportEntry, reportOf } from '../src/server/plant/nonconformance/report-state.facts.js';
import { USUAL_RULE } from '../src/server/plant/nonconformance/review-rule.decide.js';
import type { InspectAgain, Worked } from '../src/server/plant/nonconformance/rework.decide.js';
import { type DecisionState, lacksOf, type Signing, standingOf } from '../src/server/plant/nonconformance/settle.decide.js';
import { decideVerify, type Verifying } from '../src/server/plant/nonconformance/verify.decide.js';
import type { Role } from '../src/server/plant/people/people.facts.js';
import { decideRelease, type Unverified } from '../src/server/plant/release/release.decide.js';
import type { LotStatus } from '../src/server/plant/stock/effects.facts.js';
import type { LotState } from '../src/server/plant/stock/lot-state.facts.js';
import { takeOnHand } from '../src/server/plant/stock/take.decide.js';
import { checkUsable } from '../src/server/plant/stock/usable.decide.js';
import { heldOf, pieceList, PlainStock } from './plain-stock.js';

/**
 * One report on all pieces of a numbered lot `F` and all of a bulk lot `B`, without a server: the decisions are the real ones, what they rest
 * on is kept here in the plainest way. Pieces are reworked where they are, quantities into a lot of their own, `R` and the disposition.
 */

export const PIECES = 8;
export const KILOGRAMS = 20;
/** Day of March on which every concession ends. */
export const UNTIL = 30;
export const PEOPLE: readonly (readonly [person: string, roles: readonly Role[]])[] = [
  ['raiser', ['quality', 'inspector']],
  ['maker', ['quality', 'operator']],
  ['other', ['quality']],
  ['dispatcher', ['dispatcher']],
];

const dayText = (day: number): string => `2026-03-${String(day).padStart(2, '0')}`;
const NO = { needed: false, reason: 'no' };
const by = (person: string) => ({ by: person, at: '', meaning: 'as it stands' });
const reworks = (one: Disposition): boolean => one.terms.kind === 'rework' || one.terms.kind === 'repair';

export class World {
  seq = 0;
  day = 1;
  readonly entries: ReportEntry[] = [];
  readonly stock = new PlainStock();
  readonly inspections: Verifying[] = [];
  readonly runs = new Map<string, Worked & { readonly lot: string }>();
  readonly shipped: { readonly lot: string; readonly spans: SpanSet | null; readonly quantityMicro: number; day: number; seq: number }[] =
    [];
  readonly released: { readonly lot: string; readonly spans: SpanSet | null; readonly seq: number }[] = [];
  /** Whether quality lifted a hold by a decision of its own. */
  lifted = false;
  #numbers = 0;

  /** @param status of the bulk lot: released, or still in quarantine */
  constructor(severity: SeverityClass, status: LotStatus) {
    const parts = [
      { lot: 'F', spans: [[1, PIECES]] as SpanSet, quantityMicro: null },
      { lot: 'B', spans: null, quantityMicro: KILOGRAMS * MICRO },
    ];
    this.stock.bear('F', PIECES, PIECES * MICRO, 'RUN-F', 'released');
    this.stock.bear('B', null, KILOGRAMS * MICRO, 'RUN-B', status);
    for (const part of parts)
      this.stock.hold({ ...part, quantityMicro: null, hold: 'H', reaches: true, reason: 'affected', owner: 'raiser' }, 0);
    const found = { requirement: 'r', found: 'f', defects: [], measured: [], files: [], severity, foundBy: 'raiser', foundAt: '', parts };
    const source = { kind: 'audit', code: null } as const;
    const signature = by('raiser');
    this.#record('raiser', { kind: 'ReportRaised', v: 1, report: 'NC', state: 'raised', source, ...found });
    this.#record('raiser', { kind: 'ReportContained', v: 1, report: 'NC', state: 'contained', holds: ['H'], note: null, signature });
    this.#record('raiser', {
      kind: 'ReportReviewed',
      v: 1,
      report: 'NC',
      state: 'reviewed',
      severity,
      investigate: NO,
      inform: NO,
      signature,
    });
  }

  get report(): Report {
    return reportOf(this.entries)!;
  }

  propose({
    authority,
    ...command
  }: Pick<Propose, 'kind' | 'lot' | 'pieces' | 'quantityMicro'> & { authority: 'quality' | 'customer' }): void {
    const terms = { authority, authorisedBy: 'A. Quist', reference: 'letter', until: dayText(UNTIL) };
    const adverseEffect = command.kind === 'rework' || command.kind === 'repair' ? 'none' : undefined;
    const asked = { ...command, reason: 'decided', adverseEffect, concession: command.kind === 'concession' ? terms : undefined };
    const state = { report: this.report, lot: this.stateOf(command.lot), item: undefined, becomes: undefined, on: dayText(this.day) };
    this.#record('other', decidePropose(asked, state));
  }

  sign(disposition: number, who: number, as: Role): void {
    const [person, roles] = PEOPLE[who]!;
    this.#record(person, decideSign({ disposition, as }, { ...this.#decision(person), roles }, by(person)));
  }

  withdraw(disposition: number): void {
    const charged = this.runs.get(`RUN-${disposition}`)?.charged ?? [];
    const takenMicro = charged.reduce((sum, one) => sum + one.quantityMicro, 0);
    const state = { ...this.#decision('other'), takenMicro };
    this.#record('other', decideWithdrawDisposition({ disposition, reason: 'taken back' }, state));
  }

  /** Another severity breaks every signature. */
  review(severity: SeverityClass): void {
    if (!['reviewed', 'dispositioned'].includes(this.report.state)) return;
    const signature = by('other');
    this.#record('other', {
      kind: 'ReportReviewed',
      v: 1,
      report: 'NC',
      state: 'reviewed',
      severity,
      investigate: NO,
      inform: NO,
      signature,
    });
  }

  /** A rework run works on the part of a disposition, if rule 4 lets it. */
  work(disposition: number): void {
    const one = this.#numbered(disposition);
    const run = `RUN-${disposition}`;
    if (!one || this.runs.has(run)) return;
    const { spans, lot } = one.terms.part;
    const quantityMicro = one.terms.part.quantityMicro ?? countPieces(spans!) * MICRO;
    const use = { spans, quantityMicro, on: dayText(this.day), rework: true };
    const state = this.#usable(lot, use);
    const seq = ++this.seq;
    const base = { run, kind: 'rework', claimedMicro: 0, lot, closedSeq: ++this.seq };
    if (spans !== null) {
      this.stock.restatus(lot, spans, 'quarantine', seq);
      this.runs.set(run, { ...base, yields: null, charged: [], replaced: pieceList(spans).map((piece) => ({ seq, piece })) });
      return;
    }
    this.stock.move(takeOnHand(state, use, { fate: 'consumed', at: run }), 'rework', seq);
    const yields = `R${disposition}`;
    this.stock.bear(yields, null, quantityMicro, run, 'quarantine', seq);
    this.runs.set(run, { ...base, yields, charged: [{ seq, spans: null, quantityMicro }], replaced: [] });
  }

  carryOut(disposition: number, cut: number): void {
    const one = this.#numbered(disposition);
    if (!one) return;
    const { kind, part } = one.terms;
    const worked = this.runs.get(`RUN-${disposition}`);
    const evidence = {
      run: reworks(one) ? `RUN-${disposition}` : null,
      document: kind === 'scrap' ? 'WS-1' : null,
      note: 'done',
      files: [],
    };
    const facts = decideCarryOut(
      { disposition, evidence, sorted: kind === 'sort' ? sortedAt(one, cut) : undefined },
      {
        ...this.#decision('other'),
        on: dayText(this.day),
        lot: this.stateOf(part.lot),
        outcome: this.#outcome(),
        knownFiles: new Set(),
        worked,
        again: { inPlace: this.#again(part.lot, part.spans), asLot: worked?.yields == null ? null : this.#again(worked.yields, null) },
      },
    );
    this.#recordAll('other', facts);
  }

  /** Somebody ends the inspection of a lot that waits, or opens one of what is on hand and ends it. */
  inspect(lot: string, accepts: boolean): void {
    const of = this.stock.lots.get(lot);
    if (!of) return;
    const waits = this.inspections.findIndex((one) => one.lot === lot && one.state === 'waiting');
    const { spans } = heldOf(of, 'on-hand');
    const fresh = { inspection: `IN-${++this.#numbers}`, lot, spans, openedSeq: ++this.seq };
    const decided = { state: 'decided', verdict: accepts ? 'accepted' : 'not-accepted' } as const;
    if (waits === -1) this.inspections.push({ ...fresh, ...decided });
    else this.inspections[waits] = { ...this.inspections[waits]!, ...decided };
  }

  verify(disposition: number, which: number): void {
    const one = this.#numbered(disposition);
    if (!one) return;
    const lot = one.carriedOut?.fact.becomes ?? one.terms.part.lot;
    const inspection = this.inspections[which];
    const inspections = this.inspections.filter((other) => other.lot === lot);
    const state = { ...this.#decision('other'), inspection, lot: this.stateOf(lot), inspections, outcome: this.#outcome() };
    this.#recordAll('other', decideVerify({ disposition, inspection: inspection?.inspection ?? 'none' }, state));
  }

  ship(lot: string, spans: SpanSet | null, quantityMicro: number): void {
    if (!this.stock.lots.has(lot)) return;
    const use = { spans, quantityMicro, on: dayText(this.day) };
    const state = this.#usable(lot, use);
    this.seq += 1;
    this.stock.move(takeOnHand(state, use, { fate: 'dispatched', at: `S-${this.seq}` }), 'other', this.seq);
    this.shipped.push({ lot, spans, quantityMicro, day: this.day, seq: this.seq });
  }

  release(lot: string, spans: SpanSet | null): void {
    if (!this.stock.lots.has(lot)) return;
    const inspections = this.inspections.filter((one) => one.lot === lot);
    const replaced = [...this.runs.values()].filter((run) => run.lot === lot).flatMap((run) => run.replaced);
    const reworkedSince = inspections.flatMap(({ inspection, openedSeq }) =>
      replaced.filter((one) => one.seq > openedSeq).map(({ piece }) => ({ inspection, piece })),
    );
    const base = { makers: [], unexplained: [], questions: [], on: dayText(this.day) };
    const state = { ...base, lot: this.stateOf(lot), inspections, unverified: this.#unverified(lot), reworkedSince };
    const fact = decideRelease({ lot, pieces: spans ?? undefined, reason: 'good' }, state, by('other'));
    this.seq += 1;
    this.stock.restatus(lot, fact.spans, 'released', this.seq);
    this.released.push({ lot, spans: fact.spans, seq: this.seq });
  }

  /** Any hold may be lifted by a signed decision (H-5). */
  lift(which: number): void {
    const holds = [...new Set(this.stock.held.map((row) => row.hold))];
    const hold = holds[which % Math.max(1, holds.length)];
    if (hold === undefined) return;
    this.lifted = true;
    this.stock.lift(hold, ++this.seq);
  }

  close(): void {
    this.#recordAll('other', decideCloseReport('done', { ...this.#decision('other'), outcome: this.#outcome() }, by('other')));
  }

  /** A lot as decisions see it, with its holds and grants. */
  stateOf(code: string): LotState {
    const lot = this.stock.lots.get(code);
    if (!lot) throw new Refusal('unknown', [{ code: 'lot-unknown', detail: `no lot ${code}` }]);
    const open = this.stock.held.map((row) => ({ ...row, lotId: 0 }));
    const parent = this.runs.get(lot.source)?.lot;
    return {
      id: 0,
      lot: code,
      item: code,
      itemRevision: 1,
      unit: lot.pieces === null ? 'kg' : 'each',
      pieces: lot.pieces,
      quantityMicro: lot.places.reduce((sum, part) => sum + part.quantityMicro, 0),
      origin: 'made',
      bornAt: '',
      bornSeq: 1,
      madeOn: null,
      expiresOn: null,
      supplier: null,
      supplierLot: null,
      source: lot.source,
      places: lot.places,
      statuses: lot.statuses,
      holds: open.filter((row) => row.lot === code),
      inherited: open.filter((row) => row.lot === parent && row.reaches),
      urgentReleases: [],
      grants: this.#grants(code),
    };
  }

  signing(report = this.report): Map<number, Signing> {
    const digest = (one: Disposition): string => JSON.stringify([one.terms, report.severity]);
    return new Map(standingOf(report).map((one) => [one.disposition, { rule: USUAL_RULE, digest: digest(one), makers: ['maker'] }]));
  }

  #decision(actor: string): DecisionState {
    const { report } = this;
    return { report, signing: this.signing(report), holds: this.stock.held, actor };
  }

  #outcome(): HoldsState {
    const marks = new Set(this.report.dispositions.map((one) => one.carriedOut?.fact.hold));
    const made = [...this.runs.values()].flatMap((run) =>
      run.yields === null ? [] : [{ lot: run.yields, spans: null, quantityMicro: null }],
    );
    return {
      report: 'NC',
      held: this.stock.held.filter((row) => !marks.has(row.hold)),
      lots: new Map([...this.stock.lots.keys()].map((lot) => [lot, this.stateOf(lot)])),
      madeFrom: new Map([['B', made]]),
      numbers: Array.from({ length: 40 }, () => `H-${++this.#numbers}`),
    };
  }

  #again(lot: string, spans: SpanSet | null): InspectAgain {
    const { quantityMicro } = heldOf(this.stock.lots.get(lot)!, 'on-hand');
    const unit = spans === null ? 'kg' : 'each';
    return {
      part: { lot, item: lot, unit, spans, quantityMicro, supplier: null, containers: null },
      plan: { code: lot, name: lot, occasions: [], characteristics: [], revision: 1 },
      inspections: this.inspections.filter((one) => one.lot === lot),
      openedByRun: null,
      inspection: `IN-${++this.#numbers}`,
      reason: 'after rework',
    };
  }

  /** Refused as rule 4 refuses it. */
  #usable(lot: string, use: Parameters<typeof checkUsable>[2]): LotState {
    const state = this.stateOf(lot);
    const no = new Reasons();
    checkUsable(no, state, use);
    no.throwIfAny();
    return state;
  }

  #unverified(lot: string): Unverified[] {
    const open = standingOf(this.report).filter((one) => reworks(one) && one.verifiedBy === null);
    return open.flatMap((one): Unverified[] => {
      const { part } = one.terms;
      const named = { report: 'NC', disposition: one.disposition };
      if (this.runs.get(`RUN-${one.disposition}`)?.yields === lot) return [{ ...named, spans: null }];
      const left = intersectSpans(part.lot === lot ? (part.spans ?? []) : [], heldOf(this.stock.lots.get(lot)!, 'on-hand').spans ?? []);
      return left.length === 0 ? [] : [{ ...named, spans: left }];
    });
  }

  /** Since when a disposition lets its part be reworked, or go. */
  #grantedSeq(one: Disposition): number | null {
    if (one.withdrawn !== null) return null;
    if (one.terms.kind === 'concession') return one.carriedOut?.seq ?? null;
    const isSigned = one.carriedOut !== null || lacksOf(one, this.report, this.signing()).length === 0;
    return reworks(one) && isSigned ? (one.signatures.findLast((entry) => entry.fact.complete)?.seq ?? null) : null;
  }

  #grants(code: string): Grant[] {
    const lot = this.stock.lots.get(code)!;
    const of = this.report.dispositions.filter((one) => one.terms.part.lot === code && this.#grantedSeq(one) !== null);
    const granted = of.map((one) => ({
      report: 'NC',
      disposition: one.disposition,
      kind: one.terms.kind as Grant['kind'],
      limitMicro: one.terms.part.quantityMicro ?? 0,
      until: one.terms.concession?.until ?? null,
      sinceSeq: this.#grantedSeq(one)!,
      endedSeq: reworks(one) ? (one.carriedOut?.seq ?? null) : null,
    }));
    const changes = this.stock.changes.filter((change) => change.lot === code);
    const spent = lot.pieces === null ? spentOf(changes, granted) : null;
    return granted
      .filter((grant) => grant.endedSeq === null)
      .map(({ limitMicro, ...grant }) => ({
        ...grant,
        spans: of.find((one) => one.disposition === grant.disposition)!.terms.part.spans,
        usedMicro: spent?.get(grantKey(grant)) ?? null,
        leftMicro: spent === null ? null : limitMicro - spent.get(grantKey(grant))!,
        onHandMicro: spent === null ? null : heldOf(lot, 'on-hand').quantityMicro,
        holds: this.stock.holds,
      }));
  }

  #numbered = (disposition: number): Disposition | undefined => this.report.dispositions.find((one) => one.disposition === disposition);

  #record(actor: string, fact: ReportFact): void {
    this.entries.push({ seq: ++this.seq, at: '', actor, fact });
    this.stock.move(fact.moved ?? [], null, this.seq);
  }

  #recordAll(actor: string, facts: readonly (ReportFact | HoldChange | InspectionOpened)[]): void {
    for (const fact of facts) {
      if (fact.kind === 'HoldLiftedByReport') this.stock.lift(fact.hold, ++this.seq);
      else if (fact.kind === 'HoldPlacedByRule') this.#hold(fact);
      else if (fact.kind === 'InspectionOpened') {
        const { inspection, lot, spans } = fact;
        this.inspections.push({ inspection, lot, spans, openedSeq: ++this.seq, state: 'waiting', verdict: null });
      } else this.#record(actor, fact);
    }
  }

  #hold({ hold, parts, reaches, reason, owner }: HoldPlacedByRule): void {
    this.seq += 1;
    for (const part of parts) this.stock.hold({ ...part, hold, reaches, reason, owner }, this.seq);
  }
}

function sortedAt({ terms: { part } }: Disposition, cut: number) {
  if (part.spans === null) {
    const good = Math.floor((part.quantityMicro! * cut) / 10);
    return { conforming: { quantityMicro: good }, nonconforming: { quantityMicro: part.quantityMicro! - good } };
  }
  const conforming = intersectSpans(part.spans, cut === 0 ? [] : [[1, cut]]);
  const rest = subtractSpans(part.spans, conforming);
  const side = (pieces: SpanSet) => (pieces.length === 0 ? undefined : { pieces });
  return { conforming: side(conforming), nonconforming: side(rest) };
}
