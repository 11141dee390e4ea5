import { formatQuantity, parseQuantity } from '../../../shared/quantity.js';
import type { Gs1Scan, Scan } from '../../../shared/scan/scan.js';
import { type Draft, type DraftLine, EMPTY_LINE, serialsOf } from './draft.js';

/** What of the catalogue a scan is read against. */
export interface Catalogue {
  readonly items: readonly { code: string; name: string; unit: string; tracking: string; gtin: string | null }[];
  readonly suppliers: readonly { code: string; name: string }[];
  readonly locations: readonly { code: string; name: string }[];
}

/** What a scan would do to the delivery: said first, done when the person (or their next scan) says so. */
export interface Proposal {
  /** What it would do, in a line. */
  readonly does: string;
  /** What was understood, element by element. */
  readonly understood: readonly string[];
  readonly cautions: readonly string[];
  readonly draft: Draft;
}

/** Two amounts together; an amount that is not a number yet stays as it is. */
function sum(a: string, b: string): string {
  try {
    return formatQuantity(parseQuantity(a) + parseQuantity(b));
  } catch {
    return a === '' ? b : a;
  }
}

const withLine = (draft: Draft, at: number, line: DraftLine): Draft => ({
  ...draft,
  lines: at < draft.lines.length ? draft.lines.map((one, i) => (i === at ? line : one)) : [...draft.lines, line],
});

/** Whether a label says nothing else about the dates than the line has: what either leaves out tells nothing. */
const sameDates = (line: DraftLine, scanned: DraftLine): boolean =>
  (['expiresOn', 'madeOn'] as const).every((day) => line[day] === '' || scanned[day] === '' || line[day] === scanned[day]);

/** Another container of a line that is there already, or another piece where the label has a serial: same item, same supplier's lot. */
function another(draft: Draft, at: number, scanned: DraftLine): Draft {
  const line = draft.lines[at] ?? EMPTY_LINE;
  const before = Number(line.containers === '' ? '1' : line.containers);
  const containers = Number.isInteger(before) ? `${before + 1}` : line.containers; // what is no number is left for the person
  const serials = [...new Set([...serialsOf(line), ...serialsOf(scanned)])].join('\n');
  return withLine(draft, at, {
    ...line,
    expiresOn: line.expiresOn || scanned.expiresOn,
    madeOn: line.madeOn || scanned.madeOn,
    quantity: sum(line.quantity, scanned.quantity),
    containers: scanned.serials === '' ? containers : line.containers,
    serials,
  });
}

function ofGs1(scan: Gs1Scan, draft: Draft, catalogue: Catalogue): Proposal {
  const item = catalogue.items.find(
    ({ gtin, code }) => (scan.gtin !== null && gtin?.padStart(14, '0') === scan.gtin) || code === scan.item,
  );
  const cautions = [...scan.cautions];
  if (item === undefined && scan.gtin !== null) cautions.push(`no item of the catalogue has GTIN ${scan.gtin}: choose the item by hand`);
  if (item !== undefined && scan.quantity !== null && scan.quantity.unit !== item.unit) {
    cautions.push(
      `the label says ${scan.quantity.value} ${scan.quantity.unit}, but ${item.code} is counted in ${item.unit}: type the quantity`,
    );
  }
  const serial = scan.serial ?? '';
  const amount = scan.quantity !== null && (item === undefined || item.unit === scan.quantity.unit) ? scan.quantity.value : '';
  const scanned: DraftLine = {
    ...EMPTY_LINE,
    item: item?.code ?? '',
    supplierLot: scan.lot ?? '',
    quantity: amount === '' && serial !== '' ? '1' : amount,
    expiresOn: scan.expiresOn ?? scan.bestBeforeOn ?? '',
    madeOn: scan.madeOn ?? '',
    serials: serial,
    containers: '',
  };
  const sameLot = (line: DraftLine): boolean => line.item !== '' && line.item === scanned.item && line.supplierLot === scanned.supplierLot;
  const same = draft.lines.findIndex((line) => sameLot(line) && sameDates(line, scanned));
  const otherDates = same >= 0 ? -1 : draft.lines.findIndex(sameLot);
  if (otherDates >= 0) cautions.push(`line ${otherDates + 1} is the same supplier’s lot with other dates: compare the labels`);
  if (serial !== '' && draft.lines.some((line) => line.item === scanned.item && serialsOf(line).includes(serial))) {
    cautions.push(`serial ${serial} is on this delivery already`);
    return { does: `Nothing: serial ${serial} was scanned before`, understood: scan.says, cautions, draft };
  }
  if (same >= 0) {
    if (scanned.quantity === '') cautions.push(`the label states no quantity: add to that of line ${same + 1} by hand`);
    const next = another(draft, same, scanned);
    const { quantity = '', containers = '' } = next.lines[same] ?? {};
    const does =
      serial === ''
        ? `Another container of line ${same + 1}: then ${quantity} in ${containers} containers`
        : `Serial ${serial} on line ${same + 1}: then ${quantity} pieces`;
    return { does, understood: scan.says, cautions, draft: next };
  }
  const blank = draft.lines.findIndex((line) => JSON.stringify(line) === JSON.stringify(EMPTY_LINE));
  const at = blank >= 0 ? blank : draft.lines.length;
  const name = item === undefined ? 'an item to be chosen' : `${item.code}, ${item.name}`;
  return { does: `Line ${at + 1}: ${name}`, understood: scan.says, cautions, draft: withLine(draft, at, scanned) };
}

function ofPlain(text: string, draft: Draft, { items, suppliers, locations }: Catalogue): Proposal {
  const plain = { understood: [`plain code ${text}`], cautions: [] };
  const supplier = suppliers.find(({ code }) => code === text);
  if (supplier) return { ...plain, does: `Supplier: ${text}, ${supplier.name}`, draft: { ...draft, supplier: text } };
  const location = locations.find(({ code }) => code === text);
  if (location) return { ...plain, does: `Put at: ${text}, ${location.name}`, draft: { ...draft, location: text } };
  const item = items.find(({ code }) => code === text);
  const last = draft.lines.length - 1;
  const line = draft.lines[last];
  if (item) {
    const at = line && line.item === '' ? last : draft.lines.length;
    const before = draft.lines[at] ?? EMPTY_LINE;
    return { ...plain, does: `Line ${at + 1}: ${text}, ${item.name}`, draft: withLine(draft, at, { ...before, item: text }) };
  }
  const tracked = items.find(({ code }) => code === line?.item)?.tracking;
  if (line && tracked === 'serial' && line.supplierLot !== '') {
    const serials = [...new Set([...serialsOf(line), text])];
    const next = { ...line, serials: serials.join('\n'), quantity: `${serials.length}` };
    return { ...plain, does: `Serial ${text} on line ${last + 1}: then ${serials.length} pieces`, draft: withLine(draft, last, next) };
  }
  if (line && line.supplierLot === '') {
    return { ...plain, does: `Supplier’s lot of line ${last + 1}: ${text}`, draft: withLine(draft, last, { ...line, supplierLot: text }) };
  }
  const at = draft.lines.length;
  return {
    ...plain,
    does: `Line ${at + 1}: supplier’s lot ${text}, of an item to be chosen`,
    draft: withLine(draft, at, { ...EMPTY_LINE, supplierLot: text }),
  };
}

/** What a scan means at the dock. A scan that is wrong proposes nothing. */
export function proposalOf(scan: Scan, draft: Draft, catalogue: Catalogue): Proposal | null {
  if (scan.kind === 'faulty') return null;
  return scan.kind === 'gs1' ? ofGs1(scan, draft, catalogue) : ofPlain(scan.text, draft, catalogue);
}

/** What is in the form, and what the last scan proposes beside it. */
export interface Heard {
  readonly draft: Draft;
  readonly proposal: Proposal | null;
}

/** Scans one after the other: each takes the one before it as it stood, and the last waits for a person. A wrong one changes nothing. */
export function hear(scans: readonly Scan[], before: Heard, catalogue: Catalogue): Heard {
  return scans.reduce<Heard>((heard, scan) => {
    const draft = heard.proposal?.draft ?? heard.draft;
    const proposal = proposalOf(scan, draft, catalogue);
    return proposal === null ? heard : { draft, proposal };
  }, before);
}
