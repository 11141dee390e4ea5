import { describe, expect, test } from 'vitest';
import { accuses, isFound, LEAST_EXPOSED, trialWithBad, trialWithoutBad } from '../bench/suspects-trial.js';

const seeds = (count: number, from: number): number[] => Array.from({ length: count }, (_, k) => from + k);

/* The bars themselves, over 100 and 1,000 seeds, are held by the bench `suspects`. */
describe('suspects among 50,000 pieces with 60 complaints', () => {
  test('a bad lot leads the ranking, or what always occurred with it does', () => {
    const trials = seeds(20, 1).map((seed) => trialWithBad(seed, LEAST_EXPOSED));
    expect(trials.filter(isFound).length).toBeGreaterThanOrEqual(19);
    expect(trials.filter(accuses).length).toBe(20);
    for (const { ranking, bad } of trials) {
      const group = ranking.groups.find(({ candidates }) =>
        candidates.some(({ parts }) => parts.length === 1 && parts[0]!.lot === bad!.lot),
      );
      expect(group!.table.exposedFailed + group!.table.exposedSound).toBe(bad!.exposed);
    }
  });

  test('where no lot is bad nothing is accused, or hardly ever', () => {
    const trials = seeds(40, 100_000).map(trialWithoutBad);
    expect(trials.filter(accuses).length).toBeLessThanOrEqual(2);
    for (const { ranking } of trials) expect(ranking.candidates).toBeGreaterThan(300);
  });
});
