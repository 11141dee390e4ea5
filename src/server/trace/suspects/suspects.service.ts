import { Injectable } from '@nestjs/common';
import type { SuspectsAnswer } from '../../../../shared/api/suspects.js';
import { Refusal } from '../../../../shared/refusal.js';
import { countPieces } from '../../../../shared/spans.js';
import { Reader } from '../../platform/database/reader.js';
import { GenealogyIndex } from '../genealogy-index.js';
import { entryAt } from '../trace.query.js';
import { traceBackward } from '../walk.js';
import { checkAsked, type SuspectsQuestion } from './asked.js';
import { knownPieces } from './asked.query.js';
import { type Hand, handsIn } from './hands.query.js';
import { Population } from './population.js';
import { rankSuspects, type Ranking } from './rank.js';
import { suspectsAnswer } from './suspects.answer.js';

export interface SuspectsRequest extends SuspectsQuestion {
  readonly asKnownAt?: number | undefined;
  readonly top?: number | undefined;
}

const TOP = 50;
/** So long, in milliseconds, a ranking may keep everyone else waiting. */
const SLICE = 5;

/** Answers what failed pieces have in common. Reads only. */
@Injectable()
export class SuspectsService {
  constructor(
    private readonly index: GenealogyIndex,
    private readonly reader: Reader,
  ) {}

  /** @throws Refusal for what the record does not know, and for a question that has no answer */
  async rank(request: SuspectsRequest): Promise<SuspectsAnswer> {
    const genealogy = await this.index.current();
    const last = genealogy.committedSeq;
    const seq = request.asKnownAt ?? last;
    if (seq > last) {
      const detail = `the ledger ends at entry ${last}; there is no entry ${seq} yet`;
      throw new Refusal('unknown', [{ code: 'entry-unknown', detail, pointer: '/asKnownAt', last }]);
    }
    const from = this.reader.manager;
    const { population, failed } = checkAsked(request, await knownPieces(from, request, seq));
    const reached = traceBackward(genealogy, population, { asKnownAt: seq });
    const hands = await handsIn(
      from,
      reached.lots.map(({ lot }) => lot),
      seq,
    );
    const pieces = new Population(population);
    const ranking = await inSlices(rankSuspects<Hand>(genealogy, reached, pieces, failed, hands));
    return suspectsAnswer({
      asKnownAt: { seq, at: await entryAt(from, seq) },
      population,
      failed,
      pieces: pieces.size,
      failures: failed.reduce((sum, { spans }) => sum + countPieces(spans), 0),
      ranking,
      cards: this.index.cards,
      top: request.top ?? TOP,
    });
  }
}

/** Lets everything else go on in between. */
async function inSlices(slices: Generator<void, Ranking<Hand>>): Promise<Ranking<Hand>> {
  for (let since = performance.now(); ;) {
    const slice = slices.next();
    if (slice.done) return slice.value;
    if (performance.now() - since < SLICE) continue;
    await new Promise(setImmediate);
    since = performance.now();
  }
}
