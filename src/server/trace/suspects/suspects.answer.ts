import type { Suspect, SuspectGroup, SuspectsAnswer } from '../../../../shared/api/suspects.js';
import { oddsRatio } from '../../../../shared/statistics/odds-ratio.js';
import type { LotCard } from '../load.query.js';
import type { Hand } from './hands.query.js';
import type { PiecesOfLot } from './population.js';
import type { Ranking, SuspectGroup as RankedGroup } from './rank.js';
import { assumptions, CAUTION, groupInWords, suspectInWords } from './words.js';

const CONFIDENCE = 0.95;
const RISK = 0.05;

/** What was asked and found. */
export interface Found {
  readonly asKnownAt: SuspectsAnswer['asKnownAt'];
  readonly population: readonly PiecesOfLot[];
  readonly failed: readonly PiecesOfLot[];
  readonly pieces: number;
  readonly failures: number;
  readonly ranking: Ranking<Hand>;
  readonly cards: readonly LotCard[];
  /** How many groups to list. */
  readonly top: number;
}

/** The ranking as it goes over the wire. */
export function suspectsAnswer({ asKnownAt, population, failed, pieces, failures, ranking, cards, top }: Found): SuspectsAnswer {
  const { groups, everywhere, candidates } = ranking;
  const parts = (of: readonly PiecesOfLot[]) => of.map(({ lot, spans }) => ({ lot: cards[lot]!.lot, spans }));
  const listed = groups.slice(0, top).map((group) => groupAnswer(group, pieces, failures, groups.length));
  return {
    asKnownAt,
    population: parts(population),
    failed: parts(failed),
    totals: {
      pieces,
      failed: failures,
      candidates,
      tested: groups.length,
      listed: listed.length,
      beyondChance: groups.filter(({ adjustedP }) => adjustedP <= RISK).length,
    },
    groups: listed,
    everywhere: everywhere.map(suspect),
    assumptions: assumptions(asKnownAt.seq, groups.length),
    caution: CAUTION,
  };
}

function suspect({ kind, code, item, supplier, from, until }: Hand): Suspect {
  const named = { kind, code, item, supplier, from, until };
  return { ...named, words: suspectInWords(named) };
}

const endless = (value: number): number | null => (Number.isFinite(value) ? value : null);

function groupAnswer(group: RankedGroup<Hand>, pieces: number, failures: number, tested: number): SuspectGroup {
  const { table, rank, p, adjustedP } = group;
  const exposed = table.exposedFailed + table.exposedSound;
  const odds = oddsRatio(table, CONFIDENCE);
  const log10P = group.logP / Math.LN10;
  const answer = {
    rank,
    suspects: group.candidates.map(suspect),
    exposed,
    ...table,
    expectedFailed: (exposed * failures) / pieces,
    p,
    log10P,
    adjustedP,
    beyondChance: adjustedP <= RISK,
    odds: { estimate: endless(odds.estimate), lower: odds.lower, upper: endless(odds.upper), confidence: CONFIDENCE },
  };
  const adjustedLog10 = adjustedP > 0 ? Math.log10(adjustedP) : log10P + Math.log10(tested - rank + 1);
  return { ...answer, says: groupInWords(answer, failures, pieces, adjustedLog10) };
}
