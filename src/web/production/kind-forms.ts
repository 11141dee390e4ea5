import type { RunKind } from './run.js';

type Ask = 'needed' | 'may' | 'no';

/** What starting a run of a kind asks for. The server decides; this is what the form shows. @see docs/rules/production.md P-1 to P-3 */
interface KindForm {
  readonly says: string;
  readonly vessel: Ask;
  readonly line: Ask;
  readonly recipe: Ask;
  readonly bom: Ask;
  readonly clearance: boolean;
  readonly label: boolean;
  /** Classes of items that are made by it; empty: any. */
  readonly classes: readonly string[];
}

export const KIND_FORMS: Readonly<Record<RunKind, KindForm>> = {
  mixing: {
    says: 'a batch in a vessel, by a recipe',
    vessel: 'needed',
    line: 'no',
    recipe: 'needed',
    bom: 'no',
    clearance: false,
    label: false,
    classes: ['mixture'],
  },
  machining: {
    says: 'parts turned or milled on a line',
    vessel: 'no',
    line: 'needed',
    recipe: 'no',
    bom: 'may',
    clearance: false,
    label: false,
    classes: ['component'],
  },
  treating: {
    says: 'parts coated, anodised, hardened',
    vessel: 'no',
    line: 'may',
    recipe: 'no',
    bom: 'may',
    clearance: false,
    label: false,
    classes: ['component'],
  },
  filling: {
    says: 'cans filled on a line from a batch',
    vessel: 'no',
    line: 'needed',
    recipe: 'no',
    bom: 'needed',
    clearance: true,
    label: true,
    classes: ['filled'],
  },
  building: {
    says: 'units put together from parts',
    vessel: 'no',
    line: 'needed',
    recipe: 'no',
    bom: 'needed',
    clearance: true,
    label: false,
    classes: ['assembled'],
  },
  rework: {
    says: 'what a disposition sends back to be worked on',
    vessel: 'may',
    line: 'may',
    recipe: 'no',
    bom: 'no',
    clearance: false,
    label: false,
    classes: [],
  },
  repacking: {
    says: 'pieces packed again',
    vessel: 'no',
    line: 'may',
    recipe: 'no',
    bom: 'may',
    clearance: false,
    label: false,
    classes: [],
  },
};
