import { because, type Known, partOf, signedBy } from '../telling/words.facts.js';
import type { LotNotAccepted, LotReconsidered, LotReleased } from './release.facts.js';

export const sayRelease = {
  LotReleased: (fact: LotReleased, known: Known): string =>
    `${partOf(fact, known)} released${because(fact.reason)}${signedBy(fact.signature)}`,
  LotNotAccepted: (fact: LotNotAccepted, known: Known): string =>
    `${partOf(fact, known)} not accepted${because(fact.reason)}${signedBy(fact.signature)}`,
  LotReconsidered: (fact: LotReconsidered, known: Known): string =>
    `${partOf(fact, known)} put back into quarantine${because(fact.reason)}${signedBy(fact.signature)}`,
};
