import type { EntityManager } from 'typeorm';
import type { Recorded } from '../ledger/fact.js';
import { projectCatalogue } from './catalogue/catalogue.project.js';
import { projectDispatch } from './dispatch/dispatch.project.js';
import { projectFiles } from './files/files.project.js';
import { projectHolds } from './holds/holds.project.js';
import { projectImport } from './import/import.project.js';
import { projectInspection } from './inspection/inspection.project.js';
import { projectInstruments } from './instruments/instrument.project.js';
import { projectNonconformance } from './nonconformance/nonconformance.project.js';
import { projectPeople } from './people/people.project.js';
import { projectReplacing } from './production/replacing.project.js';
import { projectRuns } from './production/run.project.js';
import { projectVessels } from './production/vessel.project.js';
import { projectRecall } from './recall/recall.project.js';
import { projectReceiving } from './receiving/receiving.project.js';
import { projectReturns } from './returns/returns.project.js';
import { projectStockDocuments } from './stock/documents.project.js';
import type { PlantFact } from './stock/effects.facts.js';
import { projectSubjects } from './telling/subjects.project.js';
import { projectBorn, projectLinks, projectVoids } from './stock/lots.project.js';
import { projectPlaces, projectStatuses } from './stock/places.project.js';

type Projector = (tx: EntityManager, entry: Recorded<never>) => Promise<void>;

/** The one table from fact kind to the projector of the feature that records it. Kinds that only have effects on lots need none. */
const PROJECTORS: Readonly<Record<string, Projector>> = {
  ...projectCatalogue,
  ...projectImport,
  ...projectPeople,
  ...projectRuns,
  ...projectVessels,
  ...projectReplacing,
  ...projectReceiving,
  ...projectDispatch,
  ...projectReturns,
  ...projectHolds,
  ...projectFiles,
  ...projectInspection,
  ...projectInstruments,
  ...projectNonconformance,
  ...projectStockDocuments,
  ...projectRecall,
};

/** Writes into the tables what an entry says: first its effects on lots, then what its own feature keeps. */
export async function project(tx: EntityManager, entry: Recorded): Promise<void> {
  const fact = entry.fact as PlantFact;
  if (fact.born) await projectBorn(tx, entry.seq, fact.born);
  await projectPlaces(tx, entry.seq, fact);
  await projectStatuses(tx, entry.seq, fact);
  if (fact.linked) await projectLinks(tx, entry.seq, fact.linked);
  if (fact.voided) await projectVoids(tx, entry.seq, fact.voided);
  await projectSubjects(tx, entry);
  await PROJECTORS[fact.kind]?.(tx, entry as Recorded<never>);
}
