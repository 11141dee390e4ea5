import { signed, type Step, type Told } from './step.js';

const recall = (action: string, by: Step['by'], body: object, more: Partial<Step> = {}): Step => ({
  route: `POST /api/recalls/:recall/${action}`,
  by,
  params: (told) => [told['real recall']!],
  body: () => body,
  ...more,
});

const drill = (told: Told): readonly string[] => [told['recall']!];
const answers = { needed: false, reason: 'every holder is known' };

/** A recall of shipped cans: strategy, notice, answer, account, check, and closed by two. Gaps are found in the drill. */
export const RECALLING: readonly Step[] = [
  {
    route: 'POST /api/recalls',
    what: 'a real one',
    by: 'recall-lead',
    body: () => ({
      title: 'Lids come off',
      reason: 'a letter',
      type: 'recall',
      drill: false,
      scope: 'narrow',
      origin: [{ lot: 'F-1', pieces: '1-20' }],
      reports: ['NC-0001'],
    }),
    keep: (answer: { recall: string }, told) => void (told['real recall'] = answer.recall),
  },
  recall('reports', 'recall-lead', { reports: ['NC-0002'] }),
  recall(
    'strategy',
    'recall-lead',
    signed({
      evaluation: { injuries: 'none', conditions: 'none', exposed: 'all', seriousness: 'low', likelihood: 'low', consequences: 'stains' },
      class: 'III',
      classReason: 'no harm likely',
      depth: 'retail',
      publicWarning: answers,
      level: 'C',
    }),
  ),
  recall('notice-texts', 'recall-lead', {
    subject: 'Recall of chain wax',
    product: 'Chain wax, can 250 g, lot F-1',
    reason: 'the lid comes off',
    stop: 'stop selling it',
    doWhat: 'set it aside',
    replyTo: 'recalls@fernhollow.example',
  }),
  recall('notices', 'recall-lead', { customer: 'C-001', channel: 'email', contentVersion: 1 }),
  recall('answers', 'recall-lead', {
    customer: 'C-001',
    followedInstructions: { stopped: true, acted: true },
    onHand: [],
    signedBy: 'I. Marsh',
    answeredOn: '2026-03-02',
  }),
  recall('accounts', 'recall-lead', { customer: 'C-001', lot: 'F-1', destroyed: { pieces: '20' }, evidence: 'certificate' }),
  recall('effectiveness-checks', 'recall-lead', { customer: 'C-001', method: 'telephone', reached: true, followed: true, note: 'done' }),
  recall('closing', 'recall-lead', signed({ nevertheless: 'the rest was used' })),
  recall('closing', 'quality', signed({ nevertheless: 'the rest was used' }), { what: 'the second signature' }),
  recall('gaps', 'recall-lead', { found: 'an old list', action: 'check it', owner: 'quality-1', dueOn: '2026-04-01' }, { params: drill }),
  recall('gaps/:gap/done', 'recall-lead', { done: 'checked' }, { params: (told) => [told['recall']!, '1'] }),
];
