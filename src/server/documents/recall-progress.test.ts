import { describe, expect, test } from 'vitest';
import { exampleRecall } from '../../../test/bench/example-recall.js';
import { closeOut, lasted } from './recall-progress.goods.js';
import { noticesAndAnswers } from './recall-progress.strategy.js';
import type { RecallProgress } from './recall-progress.types.js';
import { recallSheet } from './recall-report.model.js';

const at = '2026-03-05T09:00:00.000Z';
const PROGRESS: RecallProgress = {
  drill: false,
  status: 'open',
  asKnownAt: { seq: 2000, at, hash: 'ab'.repeat(32) },
  version: 1,
  reports: [],
  strategies: [],
  notified: { consignees: 1, notified: 1, publicNotices: [] },
  replied: { replied: 0 },
  silent: [{ customer: 'C-014', nextContactOn: '2026-03-08', due: false }],
  goods: [],
  effectiveness: { level: null, needed: 0, checked: 0, followed: 0 },
  completion: { estimatedOn: null, nextReportOn: null },
  consignees: [
    {
      customer: 'C-014',
      name: 'Larch Cycles',
      notices: [{ at, channel: 'letter', version: 1, content: 'URGENT: recall\n\nStop: stop selling: now' }],
      answer: null,
      lots: [],
      check: null,
    },
  ],
  record: [],
  times: { openedAt: at, scope: { at, seconds: 0 }, firstNotice: null, reconciliation: null, closing: null, drill: null },
  gaps: [],
  outstanding: [{ detail: 'no answer from C-014' }],
  signatures: [],
};

describe('progress of a recall', () => {
  test('stands in the report only where it was asked for, with the entry it is of on every page', () => {
    const without = recallSheet(exampleRecall());
    const sheet = recallSheet({ ...exampleRecall(), progress: PROGRESS });
    const headings = (blocks: typeof sheet.blocks) => blocks.flatMap((block) => (block.kind === 'heading' ? [block.text] : []));
    expect(headings(sheet.blocks).filter((text) => !headings(without.blocks).includes(text))).toEqual([
      'Hazard and class',
      'Notices and answers',
      'Notice, version 1',
      'Accounts of consignees',
      'Effectiveness checks',
      'Times',
      'Closing',
    ]);
    expect(sheet.proof.replaceAll('\u00a0', ' ')).toContain('; progress at entry 2 000, abababab …');
    expect(without.proof).not.toContain('progress');
  });

  test('RE-12: a silent consignee stands there with the day it is asked again', () => {
    const said = JSON.stringify(noticesAndAnswers(PROGRESS)).replaceAll('\u00a0', ' ');
    expect(said).toContain('silent');
    expect(said).toContain('next contact 8 Mar 2026');
    expect(said).toContain('{"label":"Subject","value":"URGENT: recall"},{"label":"Stop","value":"stop selling: now"}');
  });

  test('RE-16: what is outstanding is pointed out until it is closed, and after', () => {
    const titles = (progress: RecallProgress) => closeOut(progress).flatMap((block) => (block.kind === 'caution' ? [block.title] : []));
    expect(titles(PROGRESS)).toEqual(['Outstanding']);
    expect(titles({ ...PROGRESS, status: 'closed' })).toEqual(['Closed although outstanding']);
    expect(titles({ ...PROGRESS, outstanding: [] })).toEqual([]);
  });

  test('times are told in what people can grasp', () => {
    expect([0, 59, 60, 3599, 3600, 86_399, 86_400, 266_400].map(lasted)).toEqual([
      '0 min',
      '0 min',
      '1 min',
      '59 min',
      '1 h 0 min',
      '23 h 59 min',
      '1 d 0 h',
      '3 d 2 h',
    ]);
  });
});
