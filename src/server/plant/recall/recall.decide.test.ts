import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../../shared/refusal.js';
import { decideOpenRecall, decideRescope, type OpenRecall } from './recall.decide.js';
import type { FrozenScope } from './recall.facts.js';

const scope: FrozenScope = {
  asKnownAt: { seq: 12, at: '2026-03-02T08:00:00.000Z', hash: 'ab'.repeat(32) },
  origin: [{ lot: 'R-1', spans: null }],
  printed: { plantName: 'Fernhollow Works', lotPattern: '{class}{yy}-{n:5}' },
  chosen: 'narrow',
  parts: { narrow: [{ lot: 'R-1', spans: null }], conservative: [{ lot: 'R-1', spans: null }] },
};
const command: OpenRecall = { title: 'Wrong label', type: 'recall', drill: false, reason: 'photograph from a customer' };
const state = { recall: 'RC-0001', scope, consignees: ['C-001', 'C-002'] };

const code = (run: () => unknown): unknown => {
  try {
    run();
  } catch (error) {
    if (error instanceof Refusal) return error.reasons[0]?.code;
    throw error;
  }
  return null;
};

describe('opening a recall', () => {
  it('RL-2: holds the frozen scope; what is wrong is the title unless said', () => {
    expect(decideOpenRecall(command, state)).toMatchObject({ kind: 'RecallOpened', recall: 'RC-0001', what: 'Wrong label', scope });
    expect(decideOpenRecall({ ...command, what: 'hazard mark missing' }, state).what).toBe('hazard mark missing');
  });

  it.each(['recall', 'correction', 'market-withdrawal'] as const)('RE-1: %s may have reached customers', (type) => {
    expect(code(() => decideOpenRecall({ ...command, type }, state))).toBeNull();
  });

  it('RE-1, RL-1: stock recovery may not', () => {
    expect(code(() => decideOpenRecall({ ...command, type: 'stock-recovery' }, state))).toBe('left-our-control');
    expect(code(() => decideOpenRecall({ ...command, type: 'stock-recovery' }, { ...state, consignees: [] }))).toBeNull();
  });
});

describe('tracing a scope again', () => {
  it('RE-9, RL-5: is the next version, with its reason', () => {
    expect(decideRescope('a late link', { ...state, type: 'recall', version: 3 })).toMatchObject({
      kind: 'RecallRescoped',
      version: 4,
      reason: 'a late link',
    });
  });

  it('RE-1: a stock recovery stays one', () => {
    expect(code(() => decideRescope('wider', { ...state, type: 'stock-recovery', version: 1 }))).toBe('left-our-control');
  });
});
