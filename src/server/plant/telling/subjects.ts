import type { CatalogueKind } from '../catalogue/catalogue.facts.js';
import type { Fact } from '../../ledger/fact.js';

/** The kinds of record an entry can name by a code. */
export const SUBJECT_KINDS = [
  'lot',
  'run',
  'delivery',
  'shipment',
  'return',
  'hold',
  'urgentRelease',
  'inspection',
  'report',
  'recall',
  'import',
  'document',
  'item',
  'party',
  'vessel',
  'line',
  'location',
  'recipe',
  'bom',
  'instrument',
  'calibration',
  'defect',
  'person',
  'key',
  'entry',
] as const;
export type SubjectKind = (typeof SUBJECT_KINDS)[number];

export interface Subject {
  readonly kind: SubjectKind;
  readonly code: string;
}

/** Members of facts that hold a code, whatever feature the fact is of. */
const MEMBERS: Readonly<Record<string, SubjectKind>> = {
  lot: 'lot',
  becomes: 'lot',
  earlier: 'lot',
  passedOver: 'lot',
  run: 'run',
  delivery: 'delivery',
  shipment: 'shipment',
  returned: 'return',
  hold: 'hold',
  urgentRelease: 'urgentRelease',
  urgentReleases: 'urgentRelease',
  inspection: 'inspection',
  report: 'report',
  resubmits: 'inspection',
  opens: 'inspection',
  recall: 'recall',
  import: 'import',
  document: 'document',
  correctsDocument: 'document',
  item: 'item',
  regradeTo: 'item',
  supplier: 'party',
  customer: 'party',
  billTo: 'party',
  vessel: 'vessel',
  line: 'line',
  location: 'location',
  recipe: 'recipe',
  bom: 'bom',
  instrument: 'instrument',
  calibration: 'calibration',
  defect: 'defect',
  person: 'person',
  owner: 'person',
  by: 'person',
  key: 'key',
  corrects: 'entry',
};

/** What a place names depends on the fate: stock stands at a location, was used by a run, or left in a shipment. */
const PLACES: Readonly<Record<string, SubjectKind>> = {
  'on-hand': 'location',
  retained: 'location',
  consumed: 'run',
  dispatched: 'shipment',
};

const LONGEST = 64;

/**
 * Every record a fact names, each once, in order of kind and code. The same for facts of all features: it goes by the names of members,
 * which have one meaning everywhere.
 * @see docs/rules/ledger.md L-13
 */
export function subjectsOf(fact: Fact): Subject[] {
  const found = new Map<string, Subject>();
  collect(fact, (kind, code) => {
    if (code !== '' && code.length <= LONGEST) found.set(`${kind}\u0000${code}`, { kind, code });
  });
  return [...found].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, subject]) => subject);
}

type Add = (kind: SubjectKind, code: string) => void;

function collect(value: unknown, add: Add): void {
  if (Array.isArray(value)) {
    for (const member of value) if (typeof member === 'object') collect(member, add);
    return;
  }
  if (typeof value !== 'object' || value === null) return;
  const members = value as Readonly<Record<string, unknown>>;
  addPlace(members, add);
  addRecord(members, add);
  for (const [name, member] of Object.entries(members)) {
    const kind = MEMBERS[name] ?? (isLinkEnd(name, members) ? 'lot' : undefined);
    if (kind === undefined || typeof member === 'object') collect(member, add);
    if (kind === undefined) continue;
    for (const code of [member].flat())
      if (typeof code === 'string' || (kind === 'entry' && typeof code === 'number')) add(kind, String(code));
  }
}

/** `from` and `to` are lots in a link, places in a movement, and times elsewhere. */
const isLinkEnd = (name: string, members: Readonly<Record<string, unknown>>): boolean =>
  (name === 'from' || name === 'to') && 'fromSpan' in members;

function addPlace({ fate, at }: Readonly<Record<string, unknown>>, add: Add): void {
  if (typeof fate !== 'string' || typeof at !== 'string') return;
  add(PLACES[fate] ?? 'document', at);
}

type RecordKind = Exclude<CatalogueKind, 'inspection-plan'>;

/** A revision of the catalogue: `what` says of which kind the record is. */
function addRecord({ what, record }: Readonly<Record<string, unknown>>, add: Add): void {
  const code = typeof record === 'object' && record !== null ? (record as { code?: unknown }).code : undefined;
  // An inspection plan has the code of the item it is for.
  if (typeof what === 'string' && typeof code === 'string') add(what === 'inspection-plan' ? 'item' : (what as RecordKind), code);
}
