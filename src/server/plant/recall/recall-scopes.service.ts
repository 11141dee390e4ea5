import { Inject, Injectable } from '@nestjs/common';
import { Reasons, Refusal } from '../../../../shared/refusal.js';
import { unionSpans } from '../../../../shared/spans.js';
import { entryAt } from '../../ledger/read.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { traceScopes, type Scopes } from '../../trace/evidence.js';
import type { Genealogy } from '../../trace/genealogy.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { originsOf, type TraceQuestion } from '../../trace/origins.query.js';
import type { Origin, Traced } from '../../trace/traced.js';
import type { Affected } from './affected.js';
import type { FrozenScope, ScopeName, ScopePart } from './recall.facts.js';

/** Both scopes of a recall, traced as known at one entry. */
export interface TracedScopes extends Scopes {
  readonly genealogy: Genealogy;
  readonly origins: readonly Origin[];
  readonly seq: number;
}

export const affectedIn = (traced: Traced): Affected => new Map(traced.lots.map(({ lot, spans }) => [lot, spans]));

/** Traces the scope of a recall and freezes it at a ledger position. Reads only. */
@Injectable()
export class RecallScopes {
  constructor(
    private readonly index: GenealogyIndex,
    private readonly reader: Reader,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /**
   * Finds what the questions name and traces it forward in both scopes.
   * @param asKnownAt ledger entry; left out: everything recorded
   * @throws Refusal naming everything that the record does not know, each with a pointer to the origin it is in
   */
  async trace(questions: readonly TraceQuestion[], asKnownAt?: number): Promise<TracedScopes> {
    const genealogy = await this.index.current();
    const known = genealogy.committedSeq;
    const seq = asKnownAt ?? known;
    if (seq > known) {
      throw new Refusal('unknown', [
        {
          code: 'entry-unknown',
          detail: `the ledger ends at entry ${known}; there is no entry ${seq} yet`,
          pointer: '/asKnownAt',
          last: known,
        },
      ]);
    }
    const origins = await this.#origins(questions, seq);
    return this.#scopes(genealogy, origins, seq);
  }

  /** Traces a frozen scope again, as known at its entry. */
  async again(origin: readonly Origin[], seq: number): Promise<TracedScopes> {
    return this.#scopes(await this.index.current(), origin, seq);
  }

  /** The scope as it goes into the ledger. */
  async freeze(scopes: TracedScopes, chosen: ScopeName): Promise<FrozenScope> {
    const entry = await entryAt(this.reader.manager, scopes.seq);
    if (!entry) throw new Error(`the ledger has no entry ${scopes.seq}`);
    return {
      asKnownAt: { seq: entry.seq, at: entry.at, hash: entry.hash },
      origin: this.#parts(scopes.origins),
      printed: { plantName: this.config.plantName, lotPattern: this.config.lotPattern },
      chosen,
      parts: { narrow: this.#parts(scopes.narrow.lots), conservative: this.#parts(scopes.conservative.lots) },
    };
  }

  #scopes(genealogy: Genealogy, origins: readonly Origin[], seq: number): TracedScopes {
    return { genealogy, origins, seq, ...traceScopes(genealogy, 'forward', origins, { asKnownAt: seq }) };
  }

  #parts(lots: readonly { readonly lot: number; readonly spans: Origin['spans'] }[]): ScopePart[] {
    return lots.map(({ lot, spans }) => ({ lot: this.index.cards[lot]!.lot, spans })).toSorted((a, b) => (a.lot < b.lot ? -1 : 1));
  }

  async #origins(questions: readonly TraceQuestion[], seq: number): Promise<Origin[]> {
    const no = new Reasons();
    const found = new Map<number, Origin['spans']>();
    for (const [i, question] of questions.entries()) {
      try {
        for (const { lot, spans } of await originsOf(this.reader.manager, question, seq)) {
          const before = found.get(lot);
          found.set(lot, before && spans ? unionSpans(before, spans) : spans);
        }
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        for (const { code, detail, ...facts } of error.reasons) {
          const add = error.kind === 'malformed' ? 'malformed' : error.kind === 'unknown' ? 'unknown' : 'conflict';
          no[add](code, detail, { ...facts, pointer: `/origin/${i}` });
        }
      }
    }
    no.throwIfAny();
    return [...found].map(([lot, spans]) => ({ lot, spans }));
  }
}
