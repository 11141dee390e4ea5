import { type Known, listed, partOf, signedBy } from '../telling/words.facts.js';
import type {
  HoldLifted,
  HoldLiftedByReport,
  HoldPlaced,
  HoldPlacedByRule,
  UrgentReleaseClosed,
  UrgentReleaseOpened,
} from './holds.facts.js';

export const sayHolds = {
  HoldPlaced: (fact: HoldPlaced, known: Known): string =>
    `Hold ${fact.hold} placed on ${listed(fact.parts.map((part) => partOf(part, known)))}${fact.reaches ? ' and on everything made from it' : ''}: ${fact.reason}; ${fact.owner} owns it${signedBy(fact.signature)}`,
  HoldPlacedByRule: (fact: HoldPlacedByRule, known: Known): string =>
    `Hold ${fact.hold} placed by rule on ${listed(fact.parts.map((part) => partOf(part, known)))}${fact.reaches ? ' and on everything made from it' : ''}: ${fact.reason}; ${fact.owner} owns it`,
  HoldLifted: (fact: HoldLifted): string => `Hold ${fact.hold} lifted: ${fact.reason}${signedBy(fact.signature)}`,
  HoldLiftedByReport: (fact: HoldLiftedByReport): string => `Hold ${fact.hold} lifted by the outcome of ${fact.report}: ${fact.reason}`,
  UrgentReleaseOpened: (fact: UrgentReleaseOpened, known: Known): string =>
    `Urgent release ${fact.urgentRelease} of ${partOf(fact, known)} although ${listed(fact.setsAside.map((what) => SET_ASIDE[what]))}: ${fact.reason}${signedBy(fact.signature)}`,
  UrgentReleaseClosed: (fact: UrgentReleaseClosed): string =>
    `Urgent release ${fact.urgentRelease} closed: ${fact.reason}${signedBy(fact.signature)}`,
};

const SET_ASIDE = { quarantine: 'it is in quarantine', expired: 'it has expired', held: 'it is on hold' } as const;
