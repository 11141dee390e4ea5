import { formatQuantity } from '../../../../shared/quantity.js';
import { because, counted, type Known, listed, partOf, piecesOf } from '../telling/words.facts.js';
import type { PartReplaced, PartUsed } from './replacing.facts.js';
import type {
  Changeover,
  ChangeoverRecorded,
  LinksCorrected,
  RunCharged,
  RunClosed,
  RunCorrected,
  RunStarted,
  RunUncharged,
  YieldInvestigated,
} from './run.facts.js';
import type { BatchTransferred, RunTransferred, VesselCleaned, VesselEmptied } from './vessel.facts.js';

const changeoversIn = (changeovers: readonly Changeover[]): string =>
  changeovers.length === 0 ? '' : `; from piece on: ${listed(changeovers.map(({ lot, fromPiece }) => `${lot} from ${fromPiece}`))}`;

const usedPart = ({ lot, piece }: PartUsed): string => (piece === null ? lot : `piece ${piece} of ${lot}`);

export const sayProduction = {
  RunStarted: (fact: RunStarted): string => {
    const where = [fact.vessel, fact.line].filter((place) => place !== null).join(' and ');
    const clinging = fact.residues.length === 0 ? '' : `; not cleaned since ${listed(fact.residues.map((residue) => residue.lot))}`;
    return `${fact.run} (${fact.runKind} of ${fact.item}) began${where === '' ? '' : ` in ${where}`}${clinging}`;
  },
  RunCharged: (fact: RunCharged, known: Known): string => {
    const parts = fact.charges.map(
      (charge) => `${partOf(charge, known)}${charge.heel ? ' as heel' : ''}${because(charge.deviationReason ?? undefined)}`,
    );
    return `${fact.run} was charged with ${listed(parts)}${changeoversIn(fact.changeovers)}`;
  },
  RunUncharged: (fact: RunUncharged): string =>
    `${counted(fact.returns.length, 'charge')} of ${fact.run} came back unused${because(fact.reason)}`,
  ChangeoverRecorded: (fact: ChangeoverRecorded): string =>
    `${fact.run}: ${listed(fact.changeovers.map(({ lot, fromPiece }) => `${lot} in use from piece ${fromPiece}`))}`,
  RunClosed: (fact: RunClosed, known: Known): string => {
    if (fact.yields === null) return `${fact.run} was closed and yielded no lot`;
    const made = partOf({ lot: fact.yields, quantityMicro: fact.born?.[0]?.quantityMicro ?? null }, known);
    const refused = fact.rejected.length === 0 ? '' : `; ${piecesOf(fact.rejected)} rejected`;
    return `${fact.run} was closed and yielded ${made}${refused}${fact.investigations.map(({ detail }) => `; to be explained: ${detail}`).join('')}`;
  },
  YieldInvestigated: (fact: YieldInvestigated): string => `${fact.run}: the ${fact.what} was explained${because(fact.explanation)}`,
  RunCorrected: (fact: RunCorrected): string => `The record of ${fact.run} (entry ${fact.corrects}) was put right${because(fact.reason)}`,
  LinksCorrected: (fact: LinksCorrected): string =>
    `Links of ${fact.run}${fact.corrects === null ? '' : ` (entry ${fact.corrects})`} were put right${because(fact.reason)}`,
  PartReplaced: (fact: PartReplaced): string => {
    const unit = fact.unit.serial ?? `piece ${fact.unit.piece}`;
    return `${fact.run}: in ${unit} of ${fact.unit.lot} ${usedPart(fact.removed)} was replaced by ${usedPart(fact.fitted)}${because(fact.reason)}`;
  },
  VesselEmptied: (fact: VesselEmptied, known: Known): string => {
    const parts = (fact.moved ?? []).map((movement) => partOf(movement, known));
    const where = fact.location === null ? 'scrapped' : `put to ${fact.location}`;
    return `${fact.vessel} was emptied, ${listed(parts)} ${where}${because(fact.reason)}`;
  },
  VesselCleaned: (fact: VesselCleaned): string => `${fact.vessel} was cleaned${because(fact.method)}`,
  RunTransferred: (fact: RunTransferred): string => `${fact.run} went on from ${fact.leaves} in ${fact.vessel}`,
  BatchTransferred: (fact: BatchTransferred): string =>
    `${formatQuantity((fact.moved ?? []).reduce((sum, movement) => sum + movement.quantityMicro, 0))} of ${fact.lot} pumped from ${fact.leaves} into ${fact.vessel}`,
};
