import { canonicalJson } from '../../../../shared/canonical-json.js';
import { isValidGln } from '../../../../shared/gs1/check-digit.js';
import { Reasons } from '../../../../shared/refusal.js';
import type { Bom, CatalogueKind, CatalogueKinds, CatalogueRevised, Item, Party, Recipe, Vessel } from './catalogue.facts.js';
import { bomFaults, recipeFaults } from './composition.decide.js';
import type { InspectionPlan } from './inspection-plan.facts.js';
import { inspectionPlanFaults } from './inspection-plan.decide.js';
import { itemFaults } from './item.decide.js';
import type { CatalogueState } from './catalogue-state.facts.js';

/** A first revision, or with `revision` the one after it. */
export interface Revise<K extends CatalogueKind> {
  readonly what: K;
  readonly record: CatalogueKinds[K];
  /** The revision being revised, as the asker saw it; absent for a record that is new. */
  readonly revision?: number | undefined;
  readonly reason?: string | undefined;
}

const WORD: Readonly<Record<CatalogueKind, string>> = {
  item: 'item',
  party: 'party',
  vessel: 'vessel',
  line: 'line',
  location: 'location',
  recipe: 'recipe',
  bom: 'bill of materials',
  instrument: 'instrument',
  'inspection-plan': 'inspection plan',
  defect: 'defect',
};

/** Kinds of place that share one code space. */
export const PLACES: readonly CatalogueKind[] = ['vessel', 'line', 'location'];

/**
 * Makes the first or the next revision of a catalogue record. Earlier revisions stay.
 * @throws Refusal with every reason: code-taken, revised-meanwhile, reason-missing, nothing-changed, code-clash, and those of its kind
 * @see docs/rules/catalogue.md C-1 to C-9
 */
export function decideRevise<K extends CatalogueKind>(command: Revise<K>, state: CatalogueState): CatalogueRevised<K> {
  const no = new Reasons();
  revisionFaults(no, command, state);
  const clash = PLACES.includes(command.what) ? state.placesOfCode.find((what) => what !== command.what) : undefined;
  if (clash !== undefined) {
    no.conflict(
      'code-clash',
      `${command.record.code} is a ${WORD[clash]}: vessels, lines and locations are all places, and a place has one code`,
      {
        pointer: '/code',
      },
    );
  }
  kindFaults(no, command, state);
  no.throwIfAny();
  return {
    kind: 'CatalogueRevised',
    v: 1,
    what: command.what,
    revision: (state.current?.revision ?? 0) + 1,
    reason: command.reason,
    record: command.record,
  };
}

function revisionFaults(no: Reasons, { what, record, revision, reason }: Revise<CatalogueKind>, { current }: CatalogueState): void {
  const named = `${WORD[what]} ${record.code}`;
  if (current && revision === undefined) {
    no.conflict('code-taken', `${named} exists at revision ${current.revision}: to revise it, give that revision and a reason`, {
      pointer: '/code',
      revision: current.revision,
    });
  }
  if (revision === undefined) return;
  if (!current) {
    no.unknown(`${what}-unknown`, `no ${named} to revise; leave the revision out to add it`, { pointer: '/code' });
    return;
  }
  if (current.revision !== revision) {
    no.conflict('revised-meanwhile', `${named} stands at revision ${current.revision}, not ${revision}: look at it again`, {
      pointer: '/revision',
      revision: current.revision,
    });
  }
  if (reason === undefined) no.malformed('reason-missing', 'say why it is revised', { pointer: '/reason' });
  const { revision: _revision, ...before } = current;
  if (canonicalJson(before) === canonicalJson(record)) no.conflict('nothing-changed', `${named} stands like that already`);
}

function kindFaults(no: Reasons, command: Revise<CatalogueKind>, state: CatalogueState): void {
  const { what, record } = command;
  if (what === 'item') itemFaults(no, record as Item, state);
  if (what === 'party') partyFaults(no, record as Party);
  if (what === 'vessel') vesselFaults(no, record);
  if (what === 'recipe') recipeFaults(no, record as Recipe, state);
  if (what === 'inspection-plan') inspectionPlanFaults(no, record as InspectionPlan, state);
  if (what === 'bom') bomFaults(no, record as Bom, state);
}

function partyFaults(no: Reasons, party: Party): void {
  if (party.gln !== undefined && !isValidGln(party.gln)) {
    no.malformed('gln-wrong', `${party.gln} is no GLN: 13 digits, the last a check digit`, { pointer: '/gln' });
  }
}

function vesselFaults(no: Reasons, vessel: Vessel): void {
  if (vessel.capacityMicro !== undefined && vessel.capacityMicro <= 0) {
    no.malformed('not-positive', 'a capacity is more than nothing', { pointer: '/capacity' });
  }
}
