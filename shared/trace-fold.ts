import { byCodeUnits } from './code-units.js';
import { sumMicro } from './quantity.js';
import { breakCycles, columnsOf } from './trace-cycles.js';
import type { Flow, RiverNode } from './trace-graph.js';
import { isEnd, mergeFlows } from './trace-graph.js';

/** A node as drawn: one of the trace, or several folded into one that still says how many. */
export interface FoldedNode extends RiverNode {
  /** How many nodes of the trace it stands for; 1 when it is itself. Over a river these add up to all nodes. */
  readonly foldedCount: number;
  /** The ids it stands for; naming them in `keep` unfolds it. */
  readonly members: readonly string[];
  /** The youngest of the folded `at`, where `at` is the oldest. */
  readonly until: string | null;
  /** Links between nodes folded into this one, and their summed value: not drawn, not lost. */
  readonly innerCount: number;
  readonly innerValue: number;
  /** Ids of the opened folds it came out of, the outermost first; empty for what was not folded. */
  readonly within: readonly string[];
}

/** A fold that is drawn as its parts. */
export interface OpenedFold {
  readonly id: string;
  readonly label: string;
  readonly count: number;
}

/** What a folded node could be called. */
export interface Fold {
  readonly layer: string;
  readonly kind: string;
  readonly count: number;
  readonly from: string | null;
  readonly until: string | null;
}

/** A river with few enough nodes, its circles cut. */
export interface FoldedRiver {
  readonly nodes: readonly FoldedNode[];
  readonly onward: readonly Flow[];
  readonly back: readonly Flow[];
  /** Outermost first. */
  readonly opened: readonly OpenedFold[];
}

type KeyOf = (node: RiverNode) => readonly (string | number)[];
/** Between the parts of a key; no kind, unit or date has a line break. */
const BREAK = '\n';

function touch({ affectedShare }: RiverNode): string {
  return affectedShare === null ? 'unknown' : affectedShare > 0 ? 'affected' : 'clean';
}

function alike(node: RiverNode): string[] {
  return [node.layer, node.kind, node.unit ?? '', touch(node)];
}

function time(node: RiverNode, length: number): string {
  return node.at?.slice(0, length) ?? '';
}

/** What may fold within a column, finest first: alike in kind and day, then in kind and month, then in kind at any time. */
function columnLevels(column: ReadonlyMap<string, number>, onward: readonly Flow[]): KeyOf[] {
  const leading = new Set(onward.map(({ source }) => source));
  const place = (node: RiverNode): number => (isEnd(node) && !leading.has(node.id) ? -1 : (column.get(node.id) ?? 0));
  return [
    (node) => [...alike(node), place(node), time(node, 10)],
    (node) => [...alike(node), place(node), time(node, 7)],
    (node) => [...alike(node), place(node)],
  ];
}

/** What may fold across columns, which long chains of heels need. Affected and clean nodes stay apart as long as possible. */
const CROSS_LEVELS: readonly KeyOf[] = [
  (node) => [...alike(node), time(node, 7)],
  (node) => [...alike(node), time(node, 4)],
  alike,
  (node) => [node.layer, node.kind, node.unit ?? ''],
  (node) => [node.layer, node.unit ?? ''],
];

function groupsAt(key: KeyOf, nodes: readonly RiverNode[], keep: ReadonlySet<string>): [string, RiverNode[]][] {
  const groups = new Map<string, RiverNode[]>();
  for (const node of nodes) {
    if (keep.has(node.id)) continue;
    const name = key(node).join(BREAK);
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [node]);
    else group.push(node);
  }
  return [...groups].filter(([, group]) => group.length > 1).toSorted(([a, x], [b, y]) => y.length - x.length || byCodeUnits(a, b));
}

/** The groups to fold: the largest of the finest level that suffices, and no more than needed. */
function chooseGroups(
  nodes: readonly RiverNode[],
  keyLevels: readonly KeyOf[],
  maxNodes: number,
  keep: ReadonlySet<string>,
): [string, RiverNode[]][] {
  let chosen: [string, RiverNode[]][] = [];
  if (nodes.length <= maxNodes) return chosen;
  for (const key of keyLevels) {
    const groups = groupsAt(key, nodes, keep);
    let count = nodes.length;
    const enough = groups.findIndex(([, group]) => (count -= group.length - 1) <= maxNodes);
    chosen = enough === -1 ? groups : groups.slice(0, enough + 1);
    if (enough !== -1) break;
  }
  return chosen;
}

/** The affected share of the whole, by quantity; null as soon as one part cannot be said. */
function jointShare(group: readonly RiverNode[]): number | null {
  let quantity = 0;
  let affected = 0;
  let plain = 0;
  for (const node of group) {
    if (node.affectedShare === null) return null;
    quantity += node.quantityMicro;
    affected += node.quantityMicro * node.affectedShare;
    plain += node.affectedShare;
  }
  return Math.min(1, quantity > 0 ? affected / quantity : plain / group.length);
}

function single(node: RiverNode): FoldedNode {
  return { ...node, foldedCount: 1, members: [node.id], until: node.at, innerCount: 0, innerValue: 0, within: [] };
}

function foldGroup({ id, nodes: group, within }: Group, label: (fold: Fold) => string): FoldedNode {
  const [first] = group;
  if (first === undefined) throw new RangeError('nothing can be folded into a node');
  const times = group.flatMap(({ at }) => at ?? []).toSorted(byCodeUnits);
  const from = times[0] ?? null;
  const until = times.at(-1) ?? null;
  const kind = group.every((node) => node.kind === first.kind) ? first.kind : first.layer;
  return {
    id,
    label: label({ layer: first.layer, kind, count: group.length, from, until }),
    layer: first.layer,
    kind,
    quantityMicro: sumMicro(group.map(({ quantityMicro }) => quantityMicro)),
    ...(first.unit === undefined ? {} : { unit: first.unit }),
    affectedShare: jointShare(group),
    at: from,
    until,
    foldedCount: group.length,
    members: group.map((node) => node.id),
    innerCount: 0,
    innerValue: 0,
    within,
  };
}

/** Nodes to be drawn as one. */
interface Group {
  readonly id: string;
  readonly nodes: readonly RiverNode[];
  readonly within: readonly string[];
}

/** An opened fold of so many shows them one by one; one of more, parts that can be opened in their turn. */
const SHOWN_SINGLY = 60;

function partsOf(group: Group): Group[] {
  const size = group.nodes.length <= SHOWN_SINGLY ? 1 : Math.ceil(Math.sqrt(group.nodes.length));
  const within = [...group.within, group.id];
  return Array.from({ length: Math.ceil(group.nodes.length / size) }, (_, i) => ({
    id: `${group.id} / ${i + 1}`,
    nodes: group.nodes.slice(i * size, (i + 1) * size),
    within,
  }));
}

/** What is left to fold once the folds a reader opened are taken apart. */
function takeApart(groups: readonly Group[], open: ReadonlySet<string>, label: (fold: Fold) => string) {
  const left: Group[] = [];
  const opened: OpenedFold[] = [];
  const within = new Map<string, readonly string[]>();
  const waiting = [...groups];
  for (let group = waiting.shift(); group !== undefined; group = waiting.shift()) {
    const [only] = group.nodes;
    if (group.nodes.length === 1 && only !== undefined) {
      within.set(only.id, group.within);
    } else if (open.has(group.id)) {
      opened.push({ id: group.id, label: foldGroup(group, label).label, count: group.nodes.length });
      waiting.push(...partsOf(group));
    } else {
      left.push(group);
    }
  }
  return { groups: left, opened, within };
}

/** Moves the flows to the folded nodes; what now begins and ends in one node is counted there instead. */
function redirect(
  flows: readonly Flow[],
  holder: ReadonlyMap<string, string>,
  inner: Map<string, { count: number; value: number }>,
): Flow[] {
  const moved: Flow[] = [];
  for (const flow of flows) {
    const source = holder.get(flow.source);
    if (source === undefined || source !== holder.get(flow.target)) {
      moved.push(flow);
      continue;
    }
    const sum = inner.get(source) ?? { count: 0, value: 0 };
    inner.set(source, { count: sum.count + flow.count, value: sum.value + flow.value });
  }
  return mergeFlows(moved, (id) => holder.get(id) ?? id);
}

/** How the folds are chosen and called. */
interface FoldRules {
  /** Folds until there are no more nodes than this, or nothing alike is left to fold. */
  readonly maxNodes: number;
  /** Folds across columns, too, when a chain is longer than this. */
  readonly maxColumns: number;
  /** Ids that never fold: where the trace starts, and what a reader asked to unfold. */
  readonly keep: ReadonlySet<string>;
  /** Ids of folds to draw as their parts; what else is folded does not change by that. */
  readonly open: ReadonlySet<string>;
  readonly label: (fold: Fold) => string;
}

/** Folds the groups and moves every flow to where its ends now are. */
function foldGroups(
  nodes: readonly RiverNode[],
  cut: { readonly onward: readonly Flow[]; readonly back: readonly Flow[] },
  named: readonly [string, RiverNode[]][],
  { open, label }: Pick<FoldRules, 'open' | 'label'>,
): FoldedRiver {
  const taken = new Set(nodes.map(({ id }) => id));
  const holder = new Map<string, string>();
  const whole = named.map(([name, group]): Group => {
    let id = `fold ${name}`;
    while (taken.has(id)) id += '+';
    return { id, nodes: group, within: [] };
  });
  const { groups, opened, within } = takeApart(whole, open, label);
  for (const group of groups) for (const node of group.nodes) holder.set(node.id, group.id);
  const folded = groups.map((group) => foldGroup(group, label));
  const inner = new Map<string, { count: number; value: number }>();
  const onward = redirect(cut.onward, holder, inner);
  const back = redirect(cut.back, holder, inner);
  const singles = nodes.filter(({ id }) => !holder.has(id)).map((node) => ({ ...single(node), within: within.get(node.id) ?? [] }));
  const drawn = [...folded, ...singles]
    .map((node) => ({ ...node, innerCount: inner.get(node.id)?.count ?? 0, innerValue: inner.get(node.id)?.value ?? 0 }))
    .toSorted((a, b) => byCodeUnits(a.at ?? '', b.at ?? '') || byCodeUnits(a.id, b.id));
  const again = breakCycles(drawn, onward); // folding across columns may close circles that were none
  return { nodes: drawn, onward: again.onward, back: mergeFlows([...back, ...again.back]), opened };
}

function columnCount(river: FoldedRiver): number {
  return [...columnsOf(river.nodes, river.onward).values()].reduce((last, i) => Math.max(last, i), -1) + 1;
}

/**
 * Folds a large river by kind and time until it can be drawn. Nothing is dropped: node counts, quantities by unit, link counts and
 * link values add up to those of the whole river.
 * @throws QuantityFault when the sum of folded quantities is too large to keep exactly
 */
export function foldRiver(nodes: readonly RiverNode[], flows: readonly Flow[], rules: FoldRules): FoldedRiver {
  const { maxNodes, maxColumns, keep, open } = rules;
  const closed = { ...rules, open: new Set<string>() };
  const cut = breakCycles(nodes, flows);
  const levels = [...columnLevels(columnsOf(nodes, cut.onward), cut.onward), ...CROSS_LEVELS];
  let groups = chooseGroups(nodes, levels, maxNodes, keep);
  let river = foldGroups(nodes, cut, groups, closed);
  for (const key of CROSS_LEVELS) {
    if (river.nodes.length <= maxNodes && columnCount(river) <= maxColumns) break;
    groups = groupsAt(key, nodes, keep);
    river = foldGroups(nodes, cut, groups, closed);
  }
  return open.size === 0 ? river : foldGroups(nodes, cut, groups, rules);
}
