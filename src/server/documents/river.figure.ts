import { layoutTrace, type PlacedLink, type PlacedNode, type River } from '../../../shared/trace-layout.js';
import type { Fold } from '../../../shared/trace-fold.js';
import { isEnd } from '../../../shared/trace-graph.js';
import type { RecallReport } from './recall-report.types.js';
import { BODY_WIDTH, type Block, type FigureBlock, type Shape } from './sheet.model.js';
import { writtenCount, writtenDate } from '../../../shared/written.js';

const NAME_SIZE = 7.5;
const NOTE_SIZE = 6.8;
const HEAD = 16;
/** More nodes than this have no room for their names on one page. */
const MOST_NODES = 44;
const MOST_COLUMNS = 7;

/** How the affected material flowed, from suppliers' lots on the left to where it is now on the right. */
export function recallRiver({ river, recall }: RecallReport): Block[] {
  if (river === null || river.nodes.length === 0) return [];
  const layout = layoutTrace(river, {
    width: BODY_WIDTH,
    maxNodes: MOST_NODES,
    maxColumns: MOST_COLUMNS,
    foldLabel,
    bandHeight: 230,
    nodeWidth: 7,
    labelHeight: 21,
    labelRoom: 116,
    charWidth: NAME_SIZE * 0.56,
    margin: 4,
  });
  return [
    {
      kind: 'heading',
      level: 2,
      text: 'River',
      note: `How the material went, ${recall.origin}. Affected material is inked, the rest is pale.`,
    },
    riverFigure(layout),
  ];
}

function foldLabel({ kind, count }: Fold): string {
  return `${writtenCount(count)} × ${kind}`;
}

/** What a node says of itself; one that stands for several says from when to when they are. */
function noteOf({ foldedCount, note = '', at, until }: PlacedNode): string {
  if (foldedCount === 1 || at === null || until === null) return note;
  const [first, last] = [writtenDate(at), writtenDate(until)];
  return first === last ? first : `${first} to ${last}`;
}

function riverFigure(river: River): FigureBlock {
  const labels = river.nodes.flatMap(nodeLabels);
  // Pale bands first: what is affected is never hidden under what is not.
  const bands = [...river.links, ...river.backLinks].toSorted((a, b) => Number(a.affected) - Number(b.affected));
  const drawn = river.nodes.length;
  const folded =
    drawn < river.totalNodes
      ? ` ${writtenCount(river.totalNodes)} lots, runs and places are drawn as ${writtenCount(drawn)}; each that stands for several says how many.`
      : '';
  const back = river.backLinks.length > 0 ? ' Bands that run back below are rework; their width is not to scale.' : '';
  return {
    kind: 'figure',
    width: river.width,
    height: river.height + HEAD,
    shapes: [
      { kind: 'label', x: 0, y: 8, text: 'Where it came from', size: NOTE_SIZE, tone: 'quiet' },
      { kind: 'label', x: river.width, y: 8, text: 'Where it is now', size: NOTE_SIZE, tone: 'quiet', align: 'right' },
      ...bands.map(bandShape),
      ...river.nodes.flatMap(nodeShapes),
      ...labels,
    ],
    alt: inWords(river),
    caption: `Width by quantity.${back}${folded} Names that are cut short are written out under Affected lots and Consignees.`,
  };
}

function bandShape(link: PlacedLink): Shape {
  return {
    kind: 'band',
    d: shiftedDown(link.path, HEAD),
    width: link.width,
    tone: link.affected ? 'accent' : 'ghost',
    opacity: link.affected ? 0.36 : 0.9,
  };
}

/** The layout's paths are absolute moves, lines and curves: coordinate pairs, x before y. */
function shiftedDown(path: string, by: number): string {
  let odd = true;
  return path.replace(/-?\d+(?:\.\d+)?/gu, (number) => {
    odd = !odd;
    return odd ? `${Math.round((Number(number) + by) * 100) / 100}` : number;
  });
}

/** A node is inked as far as it is affected, from the top; a broken outline says that nobody can tell how far. */
function nodeShapes(node: PlacedNode): Shape[] {
  const height = Math.max(2.5, node.height);
  const box = { kind: 'rect', x: node.x, y: node.y + HEAD, w: node.width, h: height } as const;
  if (node.affectedShare === null)
    return [
      { ...box, fill: 'accentWash' },
      { ...box, stroke: 'accent', dashed: true },
    ];
  if (node.affectedShare === 0) return [{ ...box, fill: 'ruleStrong' }];
  return [
    { ...box, fill: 'ruleStrong' },
    { ...box, h: Math.max(2.5, Math.min(height, height * node.affectedShare)), fill: 'accent' },
  ];
}

function nodeLabels(node: PlacedNode): Shape[] {
  const { labelX: x, labelWidth: maxWidth } = node;
  const note = noteOf(node);
  const y = node.labelY + HEAD;
  const two = note !== '';
  return [
    { kind: 'label', x, y: y + (two ? -1 : 2.6), text: node.label, size: NAME_SIZE, tone: 'ink', strong: true, maxWidth, onPaper: true },
    ...(two ? [{ kind: 'label', x, y: y + 7.4, text: note, size: NOTE_SIZE, tone: 'quiet', maxWidth, onPaper: true } as const] : []),
  ];
}

const LISTED = 40;

function named(nodes: readonly PlacedNode[]): string {
  const words = nodes.slice(0, LISTED).map((node) => (noteOf(node) === '' ? node.label : `${node.label} (${noteOf(node)})`));
  return `${words.join(', ')}${nodes.length > LISTED ? ` and ${nodes.length - LISTED} more` : ''}`;
}

/** The river for those who cannot see it: where it starts, what lies between, where it ends. */
function inWords(river: River): string {
  const entered = new Set(river.links.map(({ target }) => target));
  const touched = river.nodes.filter(({ affectedShare }) => affectedShare !== 0);
  const sources = touched.filter(({ id }) => !entered.has(id));
  const ends = touched.filter((node) => isEnd(node));
  const between = touched.filter((node) => !sources.includes(node) && !ends.includes(node));
  return (
    `Flow of affected material. From: ${named(sources) || 'nothing'}. Through: ${named(between) || 'nothing'}. ` +
    `To: ${named(ends) || 'nothing'}. ${river.nodes.length - touched.length} nodes shown are not affected.`
  );
}
