import { sayCatalogue } from './catalogue/catalogue.say.js';
import { sayDispatch } from './dispatch/dispatch.say.js';
import { sayFiles } from './files/files.say.js';
import { sayHolds } from './holds/holds.say.js';
import { sayImport } from './import/import.say.js';
import { sayInspection } from './inspection/inspection.say.js';
import { sayInstruments } from './instruments/instrument.say.js';
import { sayNonconformance } from './nonconformance/nonconformance.say.js';
import { sayReviewRule } from './nonconformance/review-rule.say.js';
import { sayPeople } from './people/people.say.js';
import { sayProduction } from './production/production.say.js';
import { sayRecallProgress } from './recall/progress.say.js';
import { sayRecall } from './recall/recall.say.js';
import { sayReceiving } from './receiving/receiving.say.js';
import { sayRelease } from './release/release.say.js';
import { sayReturns } from './returns/returns.say.js';
import { sayStockDocuments } from './stock/documents.say.js';
import type { PlantFact } from './stock/effects.facts.js';
import { sayEffects } from './telling/effects.say.js';
import { subjectsOf } from './telling/subjects.js';
import { type Known, listed, type Say } from './telling/words.facts.js';

/** The one table from fact kind to its sentence. A kind in the sources that is missing here fails a test. */
export const SENTENCES: Readonly<Record<string, Say>> = {
  ...sayCatalogue,
  ...sayDispatch,
  ...sayFiles,
  ...sayHolds,
  ...sayImport,
  ...sayInspection,
  ...sayInstruments,
  ...sayNonconformance,
  ...sayPeople,
  ...sayProduction,
  ...sayRecall,
  ...sayRecallProgress,
  ...sayReceiving,
  ...sayRelease,
  ...sayReturns,
  ...sayReviewRule,
  ...sayStockDocuments,
};

/** An entry in plain words: what happened in one sentence, then what it did to lots, a line each. */
export interface Told {
  readonly says: string;
  readonly effects: readonly string[];
}

/**
 * Tells a fact. One of a kind that has no sentence, as a later version of the program may have recorded, is told by its kind and the
 * records it names.
 * @see docs/rules/ledger.md L-13
 */
export function say(fact: PlantFact, known: Known): Told {
  const sentence = SENTENCES[fact.kind] as Say<PlantFact> | undefined;
  const says = sentence ? sentence(fact, known) : `${fact.kind}: ${listed(subjectsOf(fact).map(({ kind, code }) => `${kind} ${code}`))}`;
  return { says, effects: sayEffects(fact, known) };
}
