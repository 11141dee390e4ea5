import { Reasons } from '../../../../shared/refusal.js';
import type { Bom, Item, Line, Recipe, Revised, Vessel } from '../catalogue/catalogue.facts.js';
import type { Residue, RunKind, RunLabel, RunStarted } from './run.facts.js';

/** A run as the operator starts it. */
export interface StartRun {
  readonly run?: string | undefined;
  readonly kind: RunKind;
  readonly item: string;
  readonly recipe?: string | undefined;
  readonly bom?: string | undefined;
  readonly vessel?: string | undefined;
  readonly line?: string | undefined;
  readonly people: readonly string[];
  readonly startedAt: string;
  readonly plannedMicro?: number | undefined;
  readonly clearance?: { readonly confirmed: boolean; readonly checkedBy: string; readonly note?: string | undefined } | undefined;
  readonly label?: RunLabel | undefined;
  readonly note?: string | undefined;
}

export interface StartState {
  readonly at: string;
  /** The code the run gets when none was typed. */
  readonly nextRun: string;
  readonly codeTaken: boolean;
  readonly item: Revised<Item> | undefined;
  readonly recipe: Revised<Recipe> | undefined;
  readonly bom: Revised<Bom> | undefined;
  readonly vessel: Revised<Vessel> | undefined;
  readonly line: Revised<Line> | undefined;
  /** Runs that are open in the vessel or on the line, or have left the vessel uncleaned. */
  readonly openThere: readonly { readonly run: string; readonly place: string; readonly left: boolean }[];
  readonly residues: readonly Residue[];
}

interface Needs {
  readonly vessel?: true;
  readonly line?: true;
  readonly recipe?: true;
  readonly bom?: true;
  readonly clearance?: true;
  readonly label?: true;
  readonly tracking?: readonly Item['tracking'][];
}

/** What each kind of run cannot begin without. */
const NEEDS: Readonly<Record<RunKind, Needs>> = {
  mixing: { vessel: true, recipe: true, tracking: ['bulk'] },
  machining: { line: true },
  treating: {},
  filling: { line: true, bom: true, clearance: true, label: true, tracking: ['pieces', 'serial'] },
  building: { line: true, bom: true, clearance: true, tracking: ['pieces', 'serial'] },
  rework: {},
  repacking: {},
};

/** Reasons for what is named and not known, and for what is needed and not named. */
const UNKNOWN = [
  { what: 'item', code: 'item-unknown' },
  { what: 'recipe', code: 'recipe-unknown' },
  { what: 'bom', code: 'bom-unknown' },
  { what: 'vessel', code: 'vessel-unknown' },
  { what: 'line', code: 'line-unknown' },
] as const;
const MISSING = [
  { what: 'vessel', code: 'vessel-missing' },
  { what: 'line', code: 'line-missing' },
  { what: 'recipe', code: 'recipe-missing' },
  { what: 'bom', code: 'bom-missing' },
] as const;

/**
 * Starts a run: keeps the revisions it is made by, and what clings to its vessel.
 * @see docs/rules/production.md P-1 to P-4
 */
export function decideStart(command: StartRun, state: StartState): RunStarted {
  const no = new Reasons();
  const needs = NEEDS[command.kind];
  checkNamed(no, command, state);
  checkNeeds(no, command, needs, state.item);
  if (state.codeTaken) no.conflict('run-taken', `there is a run ${command.run} already`, { pointer: '/run' });
  if (command.startedAt > state.at)
    no.conflict('not-yet', `started at ${command.startedAt}, which is still to come`, { pointer: '/startedAt' });
  for (const { run, place, left } of state.openThere) {
    if (left)
      no.conflict('vessel-not-cleaned', `${run} went on from ${place}, which was not cleaned since: clean it, or close the run first`, {
        run,
        vessel: place,
      });
    else no.conflict('place-busy', `${run} is still running at ${place}: close it first`, { run, place });
  }
  if (command.plannedMicro !== undefined && command.plannedMicro <= 0) {
    no.malformed('quantity-not-positive', 'a planned quantity is more than nothing', { pointer: '/planned' });
  }
  no.throwIfAny();
  const { clearance } = command;
  return {
    kind: 'RunStarted',
    v: 1,
    run: command.run ?? state.nextRun,
    runKind: command.kind,
    item: command.item,
    itemRevision: state.item!.revision,
    recipe: state.recipe?.code ?? null,
    recipeRevision: state.recipe?.revision ?? null,
    bom: state.bom?.code ?? null,
    bomRevision: state.bom?.revision ?? null,
    vessel: command.vessel ?? null,
    line: command.line ?? null,
    people: command.people,
    startedAt: command.startedAt,
    plannedMicro: command.plannedMicro ?? null,
    clearance: clearance ? { checkedBy: clearance.checkedBy, note: clearance.note } : null,
    label: command.label ?? null,
    note: command.note,
    residues: state.residues,
  };
}

function checkNamed(no: Reasons, command: StartRun, state: StartState): void {
  for (const { what, code } of UNKNOWN) {
    if (command[what] !== undefined && !state[what]) no.unknown(code, `no ${what} ${command[what]}`, { pointer: `/${what}` });
  }
  for (const what of ['recipe', 'bom'] as const) {
    const found = state[what];
    if (found && found.item !== command.item) {
      no.conflict('made-by-other', `${found.code} makes ${found.item}, not ${command.item}`, { pointer: `/${what}` });
    }
  }
  if (command.recipe !== undefined && command.bom !== undefined) {
    no.conflict('recipe-and-bom', 'a run follows a recipe or a bill of materials, not both', { pointer: '/bom' });
  }
  if (command.vessel !== undefined && state.item && state.item.tracking !== 'bulk') {
    no.conflict('no-pieces-in-vessel', `${state.item.code} comes in pieces: what is made in a vessel is bulk`, { pointer: '/vessel' });
  }
}

function checkNeeds(no: Reasons, command: StartRun, needs: Needs, item: Item | undefined): void {
  for (const { what, code } of MISSING) {
    if (needs[what] && command[what] === undefined) no.malformed(code, `${command.kind} needs a ${what}`, { pointer: `/${what}` });
  }
  if (item && needs.tracking && !needs.tracking.includes(item.tracking)) {
    no.conflict('wrong-kind-of-item', `${item.code} is not made by ${command.kind}: its lots are ${item.tracking}`, { pointer: '/item' });
  }
  if (needs.clearance && command.clearance?.confirmed !== true) {
    no.conflict('not-cleared', `${command.kind} begins only on a line that was checked clear of the product, labels and material before`, {
      pointer: '/clearance',
    });
  }
  if (needs.label && command.label === undefined) {
    no.malformed('label-missing', 'the text of the label is kept with a filling', { pointer: '/label' });
  }
}
