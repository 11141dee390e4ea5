import type { View } from '../wire/client.js';
import type { StoredFile } from '../wire/upload-file.js';
import type { BodyOf } from '../wire/use-command.js';

type Inspection = View<'InspectionView'>;
export type SeverityClass = 'critical' | 'major' | 'minor';
/** Worst first. */
export const CLASSES: readonly SeverityClass[] = ['critical', 'major', 'minor'];

/** Something that can be found on an item: an attribute of the plan that is not met, or a defect of the plant's list. */
export interface Finding {
  readonly defect: string | null;
  readonly characteristic: string | null;
  readonly says: string;
  /** The class it counts in by itself; it can be judged worse, never milder. */
  readonly class: SeverityClass;
}

/** A finding on an item. Pressed twice, it stands twice. */
export type Found = Finding & { readonly judged: SeverityClass };

/** Items counted as conforming, or one item that is written down by itself. */
export type Mark =
  | { readonly conforming: number }
  | { readonly found: readonly Found[]; readonly piece: number | null; readonly files: readonly StoredFile[]; readonly note: string };

/** The tally that is not written down yet, press by press. */
export type Marks = readonly Mark[];
export type Item = Extract<Mark, { found: unknown }>;

export const isItem = (mark: Mark | undefined): mark is Item => mark !== undefined && 'found' in mark;
const foundOf = (finding: Finding): Found => ({ ...finding, judged: finding.class });

/** So many more items are conforming. */
export const conforming = (marks: Marks, count: number): Marks => [...marks, { conforming: count }];

/** One more item, with this found on it. */
export const itemWith = (marks: Marks, finding: Finding, piece: number | null): Marks => [
  ...marks,
  { found: [foundOf(finding)], piece, files: [], note: '' },
];

/** The same, found on the item that was marked last. */
export function alsoOnLast(marks: Marks, finding: Finding): Marks {
  const last = marks.at(-1);
  return isItem(last) ? [...marks.slice(0, -1), { ...last, found: [...last.found, foundOf(finding)] }] : itemWith(marks, finding, null);
}

/** The item at a place changed: a photograph may be stored only after the next item was marked. */
export const changeItem = (marks: Marks, at: number, change: Partial<Item>): Marks =>
  marks.map((mark, i) => (i === at && isItem(mark) ? { ...mark, ...change } : mark));

/** Without the last press. */
export function undo(marks: Marks): Marks {
  const last = marks.at(-1);
  const rest = marks.slice(0, -1);
  return isItem(last) && last.found.length > 1 ? [...rest, { ...last, found: last.found.slice(0, -1) }] : rest;
}

/** What the last press was, in words. */
export function lastInWords(marks: Marks): string {
  const last = marks.at(-1);
  if (last === undefined) return 'nothing';
  return isItem(last) ? (last.found.at(-1)?.says ?? '') : `${last.conforming} conforming`;
}

/** What a tally comes to. */
export interface Counts {
  readonly looked: number;
  readonly conforming: number;
  readonly nonconforming: number;
  readonly byClass: Readonly<Record<SeverityClass, number>>;
}

const worstOf = ({ found }: Item): SeverityClass | undefined => CLASSES.find((one) => found.some(({ judged }) => judged === one));

/** Items count in their worst class; nonconformities one by one (docs/rules/inspection.md, IN-10). */
export function countsOf(marks: Marks, basis: 'items' | 'nonconformities'): Counts {
  const items = marks.filter(isItem);
  const good = marks.reduce((sum, mark) => sum + (isItem(mark) ? 0 : mark.conforming), 0);
  const inClass = (of: SeverityClass): number =>
    basis === 'items'
      ? items.filter((item) => worstOf(item) === of).length
      : items.flatMap(({ found }) => found).filter(({ judged }) => judged === of).length;
  return {
    looked: good + items.length,
    conforming: good,
    nonconforming: items.length,
    byClass: { critical: inClass('critical'), major: inClass('major'), minor: inClass('minor') },
  };
}

/** A tally as it is sent, and as it is kept while there is no connection. */
interface SentTally {
  readonly conforming?: number | undefined;
  readonly items?:
    | readonly { readonly found?: readonly { readonly class?: SeverityClass | undefined; readonly count?: number | undefined }[] }[]
    | undefined;
}

/** What tallies come to that wait to be sent. Of an item that was only measured nobody knows yet how it was judged. */
export function countsOfSent(tallies: readonly SentTally[], basis: 'items' | 'nonconformities'): Counts {
  const items = tallies.flatMap((tally) => tally.items ?? []).map((item) => item.found ?? []);
  const good = tallies.reduce((sum, tally) => sum + (tally.conforming ?? 0), 0);
  const inClass = (of: SeverityClass): number =>
    basis === 'items'
      ? items.filter((found) => CLASSES.find((one) => found.some((each) => each.class === one)) === of).length
      : items.flat().reduce((sum, found) => sum + (found.class === of ? (found.count ?? 1) : 0), 0);
  return {
    looked: good + items.length,
    conforming: good,
    nonconforming: items.filter((found) => found.length > 0).length,
    byClass: { critical: inClass('critical'), major: inClass('major'), minor: inClass('minor') },
  };
}

/** Two tallies together. */
export const together = (one: Counts, other: Counts): Counts => ({
  looked: one.looked + other.looked,
  conforming: one.conforming + other.conforming,
  nonconforming: one.nonconforming + other.nonconforming,
  byClass: {
    critical: one.byClass.critical + other.byClass.critical,
    major: one.byClass.major + other.byClass.major,
    minor: one.byClass.minor + other.byClass.minor,
  },
});

/** The tally as the server takes it. */
export function bodyOf(marks: Marks, sample: 1 | 2): BodyOf<'/api/inspections/{inspection}/tallies'> {
  return {
    sample,
    conforming: countsOf(marks, 'items').conforming,
    items: marks.filter(isItem).map(({ found, piece, files, note }) => ({
      ...(piece === null ? {} : { piece }),
      found: sameTogether(found),
      ...(files.length === 0 ? {} : { files: files.map(({ sha256 }) => sha256) }),
      ...(note === '' ? {} : { note }),
    })),
  };
}

function sameTogether(found: readonly Found[]) {
  const kinds = [...new Set(found.map(keyOf))];
  return kinds.map((kind) => {
    const same = found.filter((one) => keyOf(one) === kind);
    const { defect, characteristic, judged } = same[0]!;
    return {
      ...(characteristic === null ? {} : { characteristic }),
      ...(defect === null ? {} : { defect }),
      class: judged,
      count: same.length,
    };
  });
}

const keyOf = ({ defect, characteristic, judged }: Found): string => `${characteristic ?? ''} ${defect ?? ''} ${judged}`;

/**
 * Everything that has a button: what the plan looks at first, then the rest of the plant's list, worst first. Where an attribute names a
 * defect of the list, the worse class of the two counts, as on the server.
 */
export function findingsOf({ characteristics }: Pick<Inspection, 'characteristics'>, defects: readonly View<'DefectView'>[]): Finding[] {
  const attributes = characteristics.filter(({ kind }) => kind === 'attribute');
  const ofPlan = attributes.map((one): Finding => {
    const defect = defects.find(({ code }) => code === one.defect);
    const worse = CLASSES.find((of) => of === one.class || of === defect?.severity) ?? one.class;
    return { defect: one.defect, characteristic: one.code, says: defect?.name ?? `Not met: ${one.name}`, class: worse };
  });
  const others = defects
    .filter(({ code }) => !attributes.some(({ defect }) => defect === code))
    .map(({ code, name, severity }): Finding => ({ defect: code, characteristic: null, says: name, class: severity }));
  return CLASSES.flatMap((of) => [...ofPlan, ...others].filter((one) => one.class === of));
}
