import type { EntityManager } from 'typeorm';
import { canonicalJson } from '../../../../shared/canonical-json.js';
import { formatSpans } from '../../../../shared/spans.js';
import type { Recorded } from '../../ledger/fact.js';
import { insertRows, type Value } from '../../platform/database/rows.js';
import { lotIds } from '../stock/lot-ids.query.js';
import { type FrozenScope, type RecallOpened, type RecallRescoped, SCOPES } from './recall.facts.js';

export const projectRecall = {
  async RecallOpened(tx: EntityManager, { seq, fact }: Recorded<RecallOpened>): Promise<void> {
    await insertRows(
      tx,
      'recall',
      ['code', 'title', 'type', 'drill', 'what', 'reason', 'hazard', 'instruction', 'contact', 'opened_seq'],
      [
        [
          fact.recall,
          fact.title,
          fact.type,
          fact.drill,
          fact.what,
          fact.reason,
          fact.hazard ?? null,
          fact.instruction ?? null,
          fact.contact ?? null,
          seq,
        ],
      ],
    );
    await insertScope(tx, seq, fact.recall, 1, fact.reason, fact.scope);
  },

  async RecallRescoped(tx: EntityManager, { seq, fact }: Recorded<RecallRescoped>): Promise<void> {
    await insertScope(tx, seq, fact.recall, fact.version, fact.reason, fact.scope);
  },
};

async function insertScope(
  tx: EntityManager,
  seq: number,
  recall: string,
  version: number,
  reason: string,
  { asKnownAt, chosen, origin, printed, parts }: FrozenScope,
): Promise<void> {
  await insertRows(
    tx,
    'recall_scope',
    ['recall', 'version', 'seq', 'known_seq', 'known_hash', 'chosen', 'reason', 'printed', 'origin'],
    [[recall, version, seq, asKnownAt.seq, asKnownAt.hash, chosen, reason, canonicalJson(printed), canonicalJson(origin)]],
  );
  const ids = await lotIds(
    tx,
    SCOPES.flatMap((scope) => parts[scope].map((part) => part.lot)),
  );
  const rows = SCOPES.flatMap((scope) =>
    parts[scope].map((part): Value[] => [recall, version, scope, ids.get(part.lot)!, part.spans === null ? null : formatSpans(part.spans)]),
  );
  await insertRows(tx, 'recall_part', ['recall', 'version', 'scope', 'lot_id', 'spans'], rows);
}
