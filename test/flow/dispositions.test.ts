import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Desk, LETTER, codesOf, good, signed, startDesk, type Refused } from '../disposing.js';
import { DATABASES, type Plant } from '../harness.js';
import { expectRebuildEqual } from '../rebuild.js';

describe.each(DATABASES)('dispositions on %s', (database) => {
  let plant: Plant;
  let desk: Desk;
  beforeAll(async () => {
    ({ plant, desk } = await startDesk(database));
  });
  afterAll(() => plant.stop());

  describe('adding up', () => {
    it('NC-7: 100 affected = 60 rework + 30 scrap + 10 use as is; 99 or 101 is refused', async () => {
      const lot = await desk.cans(120);
      const report = await desk.reviewed([{ lot, pieces: '1-100' }]);
      await desk.decided(report, { kind: 'rework', lot, pieces: '1-60', adverseEffect: 'none known' });
      await desk.decided(report, { kind: 'scrap', lot, pieces: '61-90' });
      expect(codesOf(await desk.tryPropose(report, { kind: 'scrap', lot, pieces: '91-101' }))).toEqual(['not-affected']);
      expect(codesOf(await desk.tryPropose(report, { kind: 'scrap', lot, pieces: '90-100' }))).toEqual(['dispositioned-already']);
      const short = await desk.propose(report, { kind: 'concession', lot, pieces: '91-99', concession: LETTER });
      await desk.sign(report, short);
      expect(await desk.sign(report, short, 'operator')).toMatchObject({
        state: 'reviewed',
        addsUp: false,
        accounts: [{ lot, affected: '100', disposed: '99', open: '1', openPieces: '100' }],
      });
      expect(codesOf(await desk.close(report))).toEqual([
        'report-in-other-state',
        'dispositions-open',
        'not-carried-out',
        'not-carried-out',
        'not-carried-out',
        'not-verified',
      ]);
      await good(desk.post(`/${report}/dispositions/${short}/withdrawal`, { reason: 'one was forgotten' }));
      const whole = await desk.propose(report, { kind: 'concession', lot, concession: LETTER });
      await desk.sign(report, whole);
      const done = await desk.sign(report, whole, 'operator');
      expect(done).toMatchObject({ state: 'dispositioned', addsUp: true });
      expect(done.dispositions.map((one) => [one.kind, one.pieces, one.state])).toEqual([
        ['rework', '1-60', 'signed'],
        ['scrap', '61-90', 'signed'],
        ['concession', '91-99', 'withdrawn'],
        ['concession', '91-100', 'signed'],
      ]);
    });

    it('NR-20: a quantity of a bulk lot adds up exactly', async () => {
      const lot = await desk.wax(100);
      const report = await desk.reviewed([{ lot, quantity: '100' }]);
      await desk.decided(report, { kind: 'scrap', lot, quantity: '30.000001' });
      expect(codesOf(await desk.tryPropose(report, { kind: 'scrap', lot, quantity: '70' }))).toEqual(['dispositioned-already']);
      expect(codesOf(await desk.tryPropose(report, { kind: 'scrap', lot, quantity: '101' }))).toEqual(['not-affected']);
      const rest = await desk.propose(report, { kind: 'scrap', lot });
      expect((await desk.sign(report, rest)).state).toBe('dispositioned');
      expect((await desk.view(report)).dispositions[1]!.quantity).toBe('69.999999');
    });

    it('two people deciding the same pieces at once: one wins, the other is told why', async () => {
      const lot = await desk.cans(10);
      const report = await desk.reviewed([{ lot }]);
      const body = (kind: string) => ({
        kind,
        lot,
        pieces: '1-10',
        reason: 'decided',
        ...(kind === 'rework' ? { adverseEffect: 'none' } : {}),
      });
      const both = await Promise.all([
        desk.post(`/${report}/dispositions`, body('scrap'), 'quality', 1),
        desk.post(`/${report}/dispositions`, body('rework'), 'quality', 2),
      ]);
      expect(new Set(both.map((answer) => answer.status))).toEqual(new Set([201, 409]));
      const told = (both.find((answer) => answer.status === 409)!.body as unknown as Refused).reasons;
      expect(told).toMatchObject([
        { code: 'dispositioned-already', detail: `pieces 1-10 of ${lot} have disposition 1`, pointer: '/pieces' },
      ]);
      const signing = await Promise.all([desk.trySign(report, 1, 'quality', 1), desk.trySign(report, 1, 'quality', 2)]);
      expect(new Set(signing.map((answer) => answer.status))).toEqual(new Set([200, 409]));
      expect(codesOf(signing.find((answer) => answer.status === 409)!)).toEqual(['signed-in-full']);
    });

    it('says everything that is wrong with a proposal at once', async () => {
      const lot = await desk.cans(10);
      const report = await desk.reviewed([{ lot, pieces: '1-5' }]);
      const wrong = await desk.tryPropose(report, {
        kind: 'regrade',
        lot,
        pieces: '4-6',
        regradeTo: 'PUMP',
        adverseEffect: 'x',
        concession: LETTER,
      });
      expect(codesOf(wrong)).toEqual(['not-affected', 'not-of-this-kind', 'not-of-this-kind', 'regrade-tracking']);
      expect(codesOf(await desk.tryPropose(report, { kind: 'rework', lot: 'NOWHERE' }))).toEqual(['lot-unknown', 'adverse-effect-missing']);
      expect(codesOf(await desk.tryPropose(report, { kind: 'return-to-supplier', lot }))).toEqual(['no-supplier']);
      expect(codesOf(await desk.tryPropose(report, { kind: 'concession', lot }))).toEqual(['concession-missing']);
      const late = { ...LETTER, until: '2026-01-31' };
      expect(codesOf(await desk.tryPropose(report, { kind: 'concession', lot, concession: late }))).toEqual(['concession-expired']);
      expect(codesOf(await desk.trySign(report, 7))).toEqual(['disposition-unknown']);
      expect(codesOf(await desk.post('/NC-9999/dispositions', { kind: 'scrap', lot, reason: 'gone' }))).toEqual(['report-unknown']);
    });
  });

  describe('signatures', () => {
    it('NC-8: a concession without a reason or a signature is refused', async () => {
      const lot = await desk.cans(10);
      const report = await desk.reviewed([{ lot }]);
      expect((await desk.tryPropose(report, { kind: 'concession', lot, concession: LETTER, reason: '  ' })).status).toBe(400);
      const n = await desk.propose(report, { kind: 'concession', lot, concession: LETTER });
      expect(codesOf(await desk.tryCarryOut(report, n))).toEqual(['signature-lacking', 'signature-lacking']);
      const wrong = { password: 'not mine', as: 'quality' };
      expect(codesOf(await desk.post(`/${report}/dispositions/${n}/signature`, wrong))).toEqual(['signature-refused']);
      await desk.sign(report, n);
      expect(codesOf(await desk.trySign(report, n))).toEqual(['signed-already']);
      expect(codesOf(await desk.tryCarryOut(report, n))).toEqual(['signature-lacking']);
      expect((await desk.sign(report, n, 'dispatcher')).state).toBe('dispositioned');
    });

    it('NC-6: whoever has no authority disposes of nothing, on every step', async () => {
      const lot = await desk.cans(10);
      const report = await desk.reviewed([{ lot }]);
      const propose = { kind: 'scrap', lot, reason: 'gone' };
      for (const role of ['clerk', 'operator', 'inspector', 'dispatcher', 'auditor'] as const) {
        expect((await desk.post(`/${report}/dispositions`, propose, role)).status).toBe(403);
      }
      const n = await desk.propose(report, propose);
      expect((await desk.trySign(report, n, 'clerk')).status).toBe(403);
      expect(codesOf(await desk.trySign(report, n, 'operator', 1, 'quality'))).toEqual(['function-not-theirs']);
      await desk.sign(report, n);
      expect((await desk.tryCarryOut(report, n, {}, 'clerk')).status).toBe(403);
      expect((await desk.post(`/${report}/dispositions/${n}/verification`, { inspection: 'IN-1' }, 'operator')).status).toBe(403);
      expect((await desk.post(`/${report}/closing`, signed(), 'inspector')).status).toBe(403);
      expect((await plant.as('operator').post('/api/review-rule', signed({ rules: [] }))).status).toBe(403);
    });

    it('NC-12, NC-13: severity steers who may decide', async () => {
      const [minor, critical] = [await desk.cans(10), await desk.cans(10)];
      const light = await desk.reviewed([{ lot: minor }], { severity: 'minor' });
      const scrap = await desk.propose(light, { kind: 'scrap', lot: minor });
      expect((await desk.sign(light, scrap)).state).toBe('dispositioned');
      const grave = await desk.reviewed([{ lot: critical }], { severity: 'critical' });
      const alone = { ...LETTER, authority: 'quality' };
      const refused = await desk.tryPropose(grave, { kind: 'concession', lot: critical, concession: alone });
      expect(codesOf(refused)).toEqual(['concession-of-critical']);
      const one = await desk.propose(grave, { kind: 'concession', lot: critical, concession: LETTER });
      expect((await desk.view(grave)).dispositions[0]!.lacks).toEqual(['a signature of quality', 'one signature of another function']);
      const once = await desk.sign(grave, one);
      expect([once.state, once.dispositions[0]!.lacks]).toEqual(['reviewed', ['one signature of another function']]);
      expect((await desk.sign(grave, one, 'recall-lead')).state).toBe('dispositioned');
    });

    it('NR-25: a signature breaks visibly when what it signed changes, and lets nothing go any more', async () => {
      const lot = await desk.cans(10, 'quarantine');
      const report = await desk.reviewed([{ lot }], { severity: 'minor' });
      const n = await desk.decided(report, { kind: 'rework', lot, adverseEffect: 'none known' });
      const run = await desk.startRework();
      await good(desk.charge(run, lot, { pieces: '1' }));
      const asked = { investigate: { needed: false, reason: 'once' }, inform: { needed: false, reason: 'ours' } };
      await good(desk.post(`/${report}/review`, signed({ ...asked, severity: 'major' })));
      const broken = await desk.view(report);
      expect(broken).toMatchObject({
        state: 'reviewed',
        dispositions: [{ state: 'proposed', lacks: ['a signature of quality'], signatures: [{ broken: true }] }],
      });
      expect(codesOf(await desk.charge(run, lot, { pieces: '2' }))).toEqual(['lot-not-released', 'lot-held']);
      expect(codesOf(await desk.tryCarryOut(report, n, { run }))).toContain('signature-lacking');
      const again = await desk.sign(report, n);
      expect(again.state).toBe('dispositioned');
      expect(again.dispositions[0]!.signatures.map((one) => one.broken)).toEqual([true, false]);
      const [before, now] = again.dispositions[0]!.signatures.map((one) => one.digest);
      expect(now).toBe(again.dispositions[0]!.digest);
      expect(now).not.toBe(before);
      await good(desk.charge(run, lot, { pieces: '2' }));
    });

    it('NR-24: whoever raised the report or made the pieces does not decide alone', async () => {
      const lot = await desk.cans(10);
      const raised = { source: { kind: 'audit' }, requirement: 'r', found: 'f', severity: 'minor', parts: [{ lot }] };
      const { report } = await good(desk.post<{ report: string }>('', raised));
      await good(desk.post(`/${report}/containment`, signed()));
      const asked = { investigate: { needed: false, reason: 'once' }, inform: { needed: false, reason: 'ours' } };
      await good(desk.post(`/${report}/review`, signed(asked)));
      const n = await desk.propose(report, { kind: 'scrap', lot });
      const own = await desk.sign(report, n);
      expect([own.state, own.dispositions[0]!.lacks]).toEqual(['reviewed', ['a signer who neither raised the report nor made the pieces']]);
      expect((await desk.sign(report, n, 'quality', 2)).state).toBe('dispositioned');
    });

    it('NR-23: quality sets the rule, never less than quality’s own signature, and it holds for what comes after', async () => {
      const lot = await desk.cans(20);
      const report = await desk.reviewed([{ lot }]);
      const before = await desk.propose(report, { kind: 'scrap', lot, pieces: '1-10' });
      const set = (rules: object[]) => plant.as('quality').post<Refused & { sinceSeq: number }>('/api/review-rule', signed({ rules }));
      const wrong = await set([
        { disposition: 'scrap', functions: ['operator'], signers: 1 },
        { disposition: 'scrap', functions: ['quality', 'clerk', 'quality'], signers: 2 },
      ]);
      expect(codesOf(wrong)).toEqual(['quality-must-sign', 'rule-twice', 'function-signs-nothing', 'function-twice', 'signers-impossible']);
      await good(set([{ disposition: 'scrap', functions: ['quality', 'dispatcher'], signers: 2 }]));
      const after = await desk.propose(report, { kind: 'scrap', lot, pieces: '11-20' });
      expect((await desk.sign(report, before)).dispositions[0]!.lacks).toEqual([]);
      expect((await desk.sign(report, after)).dispositions[1]!.lacks).toEqual(['a signature of dispatcher']);
      await desk.sign(report, after, 'dispatcher');
      await good(set([{ disposition: 'scrap', functions: ['quality'], signers: 1 }]));
      const { rules } = await good(plant.as('auditor').get<{ rules: { disposition: string; signers: number }[] }>('/api/review-rule'));
      expect(rules.find((one) => one.disposition === 'repair')!.signers).toBe(2);
    });
  });

  it('and the record is whole', () => expectRebuildEqual(plant));
});
