import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MICRO } from '../../../../shared/quantity.js';
import { Refusal } from '../../../../shared/refusal.js';
import { countPieces, intersectSpans, type SpanSet, spanSet, subtractSpans } from '../../../../shared/spans.js';
import type { Consignee } from '../../documents/recall-report.types.js';
import { decideAccount, type StatedPart } from './account.decide.js';
import { decideClosing, outstandingOf, writtenBp } from './closing.decide.js';
import { consigneeAccounts } from './consignee-accounts.js';
import { type LotAccount, shareBp, sumAccounts } from './consignee-accounts.facts.js';
import { checksNeeded, levelBRange } from './effectiveness.facts.js';
import type { Outcome, ProgressFact, StrategyTerms } from './progress.facts.js';
import { latestBy, type Progress, type RecallEntry, recallProgress } from './progress-state.facts.js';
import { decideStrategy } from './strategy.decide.js';

const signature = { by: 'quality-1', at: '2026-03-03T08:00:00.000Z', meaning: 'I agree' };
const opened = { kind: 'RecallOpened', v: 1, recall: 'RC-0001', title: 'Lids', type: 'recall', drill: false } as unknown as ProgressFact;
const entries = (...facts: readonly ProgressFact[]): RecallEntry[] =>
  facts.map((fact, i) => ({ seq: i + 1, at: `2026-03-02T08:00:${String(i).padStart(2, '0')}.000Z`, actor: 'recall-lead-1', fact }));
const progressWith = (...facts: readonly ProgressFact[]): Progress => recallProgress(entries(opened, ...facts))!;

const TERMS: StrategyTerms = {
  evaluation: { injuries: 'none', conditions: 'none', exposed: 'all', seriousness: 'low', likelihood: 'low', consequences: 'none' },
  class: 'II',
  classReason: 'reversible',
  depth: 'retail',
  publicWarning: { needed: false, reason: 'all are known' },
  level: 'A',
  sampleSize: null,
  completionOn: null,
  reportEveryDays: 14,
};
const strategy = (terms: Partial<StrategyTerms>): ProgressFact => ({
  kind: 'RecallStrategySet',
  v: 1,
  recall: 'RC-0001',
  terms: { ...TERMS, ...terms },
  reason: 'r',
  signature,
});

const refusal = (run: () => unknown): string[] => {
  try {
    run();
  } catch (error) {
    if (error instanceof Refusal) return error.reasons.map(({ code }) => code);
    throw error;
  }
  return [];
};

/** A consignee that was sent pieces 1 to 40 of F-1 in two shipments, and 100 kg of B-1. */
function sent(out: SpanSet, outMicro: number): Consignee {
  const line = (shipment: string, span: readonly [number, number]) => {
    const here = intersectSpans(out, [span]);
    const spans: SpanSet = [span];
    return {
      shipment,
      shippedOn: '2026-03-01',
      lot: 'F-1',
      unit: 'each',
      spans,
      quantityMicro: countPieces(spans) * MICRO,
      out: { spans: here, quantityMicro: countPieces(here) * MICRO },
    };
  };
  const bulk = { spans: null, quantityMicro: 100 * MICRO, out: { spans: null, quantityMicro: outMicro } };
  return {
    code: 'C-001',
    name: 'Tumbledown Cycles',
    contact: null,
    lines: [line('S-1', [1, 25]), line('S-2', [26, 40]), { shipment: 'S-1', shippedOn: '2026-03-01', lot: 'B-1', unit: 'kg', ...bulk }],
  };
}

const spansOf = (...spans: SpanSet) => ({ spans, quantityMicro: countPieces(spans) * MICRO });
const parts = (account: LotAccount) => [account.cameBack, account.destroyed, account.corrected, account.soldOn, account.outstanding];

describe('accounts of consignees', () => {
  const span = fc
    .tuple(fc.integer({ min: 1, max: 45 }), fc.integer({ min: 0, max: 20 }))
    .map(([first, more]): SpanSet => [[first, first + more]]);
  const pieces = fc.option(span, { nil: undefined });
  const amount = fc.option(fc.integer({ min: 0, max: 120 }), { nil: undefined });
  const step = fc.oneof(
    fc.record({ what: fc.constant('pieces' as const), destroyed: pieces, corrected: pieces, soldOn: pieces }),
    fc.record({ what: fc.constant('amount' as const), destroyed: amount, corrected: amount, soldOn: amount }),
    fc.record({ what: fc.constant('back' as const), span, kilograms: fc.integer({ min: 0, max: 40 }) }),
  );

  const stated = (value: SpanSet | number | undefined): StatedPart | undefined =>
    value === undefined ? undefined : typeof value === 'number' ? { quantityMicro: value * MICRO } : { pieces: value };

  it('RE-16: after any sequence of statements and returns every account adds up, and none comes to more than 100 %', () => {
    let refusals = 0;
    let contradictions = 0;
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        const facts: ProgressFact[] = [];
        let out: SpanSet = [[1, 40]];
        let outMicro = 100 * MICRO;
        for (const one of steps) {
          if (one.what === 'back') {
            out = subtractSpans(out, one.span);
            outMicro = Math.max(0, outMicro - one.kilograms * MICRO);
          } else {
            const progress = progressWith(...facts);
            const known = { progress, consignees: consigneeAccounts([sent(out, outMicro)], progress), at: '2026-03-05T08:00:00.000Z' };
            const outcomes: Partial<Record<Outcome, StatedPart>> = {};
            for (const outcome of ['destroyed', 'corrected', 'soldOn'] as const) {
              const part = stated(one[outcome]);
              if (part) outcomes[outcome] = part;
            }
            const lot = one.what === 'pieces' ? 'F-1' : 'B-1';
            const codes = refusal(() => facts.push(decideAccount({ customer: 'C-001', lot, outcomes, evidence: 'e' }, known)));
            for (const code of codes) expect(['more-than-sent', 'piece-accounted-twice']).toContain(code);
            refusals += codes.length;
          }
          const [account] = consigneeAccounts([sent(out, outMicro)], progressWith(...facts));
          for (const lotAccount of account!.lots) {
            expect(parts(lotAccount).reduce((sum, part) => sum + part.quantityMicro, 0)).toBe(lotAccount.sent.quantityMicro);
            expect(Math.min(...parts(lotAccount).map((part) => part.quantityMicro))).toBeGreaterThanOrEqual(0);
            if (lotAccount.sent.spans) {
              expect(spanSet(parts(lotAccount).flatMap((part) => [...part.spans!]))).toEqual(lotAccount.sent.spans);
            }
            if (lotAccount.contradicted.quantityMicro > 0) contradictions += 1;
          }
          for (const sum of sumAccounts(account!.lots)) {
            const share = shareBp(sum.sentMicro - sum.outstandingMicro, sum.sentMicro);
            expect(share).toBeGreaterThanOrEqual(0);
            expect(share).toBeLessThanOrEqual(10_000);
            if (sum.outstandingMicro > 0) expect(share).toBeLessThan(10_000);
          }
        }
      }),
      { numRuns: 300 },
    );
    expect(refusals).toBeGreaterThan(0);
    expect(contradictions).toBeGreaterThan(0);
  });

  it('name goods stated for a lot that was not sent after all', () => {
    const progress = progressWith({
      kind: 'RecallAccounted',
      v: 1,
      recall: 'RC-0001',
      customer: 'C-009',
      lot: 'B-1',
      outcomes: {
        destroyed: { spans: null, quantityMicro: 5 * MICRO },
        corrected: { spans: null, quantityMicro: 0 },
        soldOn: { spans: null, quantityMicro: 0 },
      },
      evidence: 'e',
    });
    const [account] = consigneeAccounts([], progress);
    expect(account!.lots[0]).toMatchObject({
      sent: { quantityMicro: 0 },
      outstanding: { quantityMicro: 0 },
      contradicted: { quantityMicro: 5 * MICRO },
    });
    expect(outstandingOf({ progress, consignees: [account!], record: [] }).map(({ code }) => code)).toContain('accounted-twice');
  });

  it('stated under a wider scope, pieces that have left it contradict nothing (RL-15)', () => {
    const outcomes = { destroyed: spansOf([1, 20]), corrected: spansOf(), soldOn: spansOf() };
    const account = {
      kind: 'RecallAccounted',
      v: 1,
      recall: 'RC-0001',
      customer: 'C-001',
      lot: 'F-1',
      outcomes,
      evidence: 'e',
    } as const;
    const rescoped = { kind: 'RecallRescoped', v: 1, recall: 'RC-0001', version: 2, reason: 'r' } as unknown as ProgressFact;
    const [, second] = sent([[26, 40]], 0).lines;
    const narrow = [{ ...sent([], 0), lines: [{ ...second!, ...spansOf([15, 40]), out: spansOf([15, 40]) }] }];
    const [before] = consigneeAccounts(narrow, progressWith(account));
    expect(before!.lots[0]).toMatchObject({ destroyed: { spans: [[15, 20]] }, contradicted: { spans: [[1, 14]] } });
    const [after] = consigneeAccounts(narrow, progressWith(account, rescoped));
    expect(after!.lots[0]).toMatchObject({ destroyed: { spans: [[15, 20]] }, contradicted: { spans: [] } });
    expect(consigneeAccounts([], progressWith(account, rescoped))).toEqual([]);
  });

  it('99.999 % is not written as all of it', () => {
    expect(writtenBp(shareBp(99_999, 100_000))).toBe('99.99');
    expect([writtenBp(shareBp(7, 0)), writtenBp(shareBp(1, 2000))]).toEqual(['100.00', '0.05']);
  });
});

describe('effectiveness checks', () => {
  it('RE-5: of 40 consignees A asks for 40, C for 4, D for 1, E for none; B for a number from 5 to 39', () => {
    expect((['A', 'C', 'D', 'E'] as const).map((level) => checksNeeded(level, 40, null))).toEqual([40, 4, 1, 0]);
    expect(levelBRange(40)).toEqual({ least: 5, most: 39 });
    const set = (sampleSize: number | null) => () =>
      decideStrategy({ ...TERMS, level: 'B', sampleSize }, 'r', { progress: progressWith(), consignees: 40 }, signature);
    expect([null, 4, 5, 39, 40].map((n) => refusal(set(n)))).toEqual([
      ['sample-size-wrong'],
      ['sample-size-wrong'],
      [],
      [],
      ['sample-size-wrong'],
    ]);
    expect(checksNeeded('B', 40, 7)).toBe(7);
  });
  it('RE-5: are rounded up, kept to more than 10 % when there are more consignees than before, and never more than there are', () => {
    expect([checksNeeded('C', 41, null), checksNeeded('D', 51, null), checksNeeded('B', 100, 7), checksNeeded('B', 3, 7)]).toEqual([
      5, 2, 11, 3,
    ]);
    expect([levelBRange(0), levelBRange(1), levelBRange(2)]).toEqual([undefined, undefined, { least: 1, most: 1 }]);
  });
});

describe('what a recall has come to', () => {
  it('RE-3: keeps every strategy; the last one counts', () => {
    const { strategies } = progressWith(strategy({ class: 'III' }), strategy({ class: 'I' }));
    expect(strategies.map(({ fact, seq }) => [fact.terms.class, seq])).toEqual([
      ['III', 2],
      ['I', 3],
    ]);
  });
  it('is nothing without an entry that opens it', () => {
    expect(recallProgress([])).toBeUndefined();
    expect(recallProgress(entries(strategy({})))).toBeUndefined();
  });
  it('takes the last entry about each consignee', () => {
    const about = (customer: string | null, n: number) => ({ fact: { customer }, n });
    expect([...latestBy([about('C-1', 1), about(null, 2), about('C-1', 3)])]).toEqual([['C-1', about('C-1', 3)]]);
  });
});

describe('closing', () => {
  const lead = { person: 'ana', roles: ['recall-lead'] as const };
  const both = { person: 'ben', roles: ['recall-lead', 'quality'] as const };
  const close = (
    progress: Progress,
    actor: { person: string; roles: readonly ('recall-lead' | 'quality')[] },
    status = 'h1',
    nevertheless?: string,
  ) =>
    decideClosing(
      { reason: 'r', nevertheless },
      { progress, consignees: [], record: [], actor, status },
      { ...signature, by: actor.person },
    );
  const ready = strategy({ level: 'E' });

  it('RE-16: takes two persons, one as recall lead and one as quality, in either order', () => {
    const first = close(progressWith(ready), lead);
    expect(first).toMatchObject({ as: 'recall-lead', closes: false });
    expect(close(progressWith(ready, first), both)).toMatchObject({ as: 'quality', closes: true });
    const other = close(progressWith(ready), { person: 'cy', roles: ['quality'] });
    expect(close(progressWith(ready, other), both)).toMatchObject({ as: 'recall-lead', closes: true });
    expect(refusal(() => close(progressWith(ready, first), lead))).toEqual(['closing-signed-already']);
    expect(refusal(() => close(progressWith(ready, first), { person: 'dot', roles: ['recall-lead'] }))).toEqual(['closing-needs-other']);
    const alone = close(progressWith(ready), both);
    expect(refusal(() => close(progressWith(ready, alone), both))).toEqual(['closing-signed-already']);
  });
  it('RE-16: a first signature of another status does not count', () => {
    const first = close(progressWith(ready), lead);
    expect(close(progressWith(ready, first), both, 'h2')).toMatchObject({ closes: false });
  });
  it('RE-16: names everything outstanding, and keeps the reason why it is closed nevertheless', () => {
    const progress = progressWith(strategy({ publicWarning: { needed: true, reason: 'sold to anyone' } }));
    const consignees = consigneeAccounts([sent([[1, 40]], 0)], progress);
    const state = { progress, consignees, record: [], actor: lead, status: 'h' };
    expect(refusal(() => decideClosing({ reason: 'r' }, state, signature))).toEqual([
      'public-not-warned',
      'not-all-notified',
      'goods-outstanding',
      'checks-missing',
    ]);
    const signed = decideClosing({ reason: 'r', nevertheless: 'the firm is gone' }, state, signature);
    expect(signed).toMatchObject({ nevertheless: 'the firm is gone', closes: false });
    expect(signed.outstanding).toContain('40 of 40 pieces sent are not accounted for');
  });
  it('SP-5: a record that accounts for less than 99.5 %, or for more than there was, is outstanding even in a drill', () => {
    const progress = recallProgress(entries({ ...opened, drill: true } as ProgressFact))!;
    const share = (accountedMicro: number, overMicro = 0) =>
      outstandingOf({
        progress,
        consignees: [],
        record: [{ unit: 'kg', affectedMicro: 1000 * MICRO, accountedMicro: accountedMicro * MICRO, overMicro }],
      }).map(({ detail }) => detail);
    expect([share(1000), share(995)]).toEqual([[], []]);
    expect(share(994)).toEqual(['the record accounts for 994 of 1000 kg, 99.40 %']);
    expect(share(1000, MICRO)).toEqual(['the record accounts for 1000 of 1000 kg, 100.00 %, and for 1 more than there were']);
  });
});
