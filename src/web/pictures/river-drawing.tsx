import { memo } from 'react';
import type { PlacedLink, PlacedNode, River } from '../../../shared/trace-layout.js';
import { CODE_FONT, fitText, NAME_FONT, TEXT_FONT } from './fit-text.js';
import type { Reach, RiverPaths } from './river-paths.js';
import { LABEL_HEIGHT } from './river-size.js';
import { columnHeads, noteOf, spokenName } from './river-words.js';

/** Room for the headings of the columns, above the river. */
export const HEAD = 30;
const LEAST = 3;

/** A node with its texts as they fit, and whole. */
interface NamedNode {
  readonly node: PlacedNode;
  readonly label: string;
  readonly note: string;
  readonly spoken: string;
}

/** The texts of every node, cut where there is no room. Codes are set in the type of codes; folds have none. */
export function namedNodes(river: River, labelOf: (id: string) => string, inked: string): NamedNode[] {
  return river.nodes.map((node) => {
    const room = node.labelWidth - indentOf(node);
    return {
      node,
      label: fitText(node.label, room, isCode(node) ? CODE_FONT : NAME_FONT),
      note: fitText(noteOf(node, labelOf), room, TEXT_FONT),
      spoken: spokenName(node, labelOf, inked),
    };
  });
}

/** The sheets of a fold stand where its text would begin. */
const indentOf = ({ foldedCount }: PlacedNode): number => (foldedCount > 1 ? 6 : 0);

/** Fates are words, everything else that is not folded has a code. */
const isCode = (node: PlacedNode): boolean => node.foldedCount === 1 && !(node.layer === 'whereabouts' && node.label === node.kind);

const bandClass = ({ affected }: PlacedLink): string => (affected ? 'band affected' : 'band');

const Band = ({ link }: { link: PlacedLink }) => <path className={bandClass(link)} d={link.path} strokeWidth={link.width} />;

/** Pale bands first: what is affected is never hidden under what is not. */
const inOrder = (bands: readonly PlacedLink[]): PlacedLink[] => bands.toSorted((a, b) => Number(a.affected) - Number(b.affected));

const keyOf = ({ source, target, affected }: PlacedLink): string => `${source}\n${target}\n${affected}`;

export const RiverBands = memo(function RiverBands({ river }: { river: River }) {
  return (
    <g className="bands" aria-hidden="true">
      {inOrder([...river.links, ...river.backLinks]).map((link) => (
        <Band key={keyOf(link)} link={link} />
      ))}
    </g>
  );
});

/** A node is inked as far as it is affected, from the top; a broken outline says that nobody can tell how far. */
function NodeMark({ node }: { node: PlacedNode }) {
  const { x, y, width, affectedShare } = node;
  const height = Math.max(LEAST, node.height);
  const box = { x, y, width, height };
  if (affectedShare === null) return <rect className="mark unsure" {...box} />;
  return (
    <>
      <rect className="mark" {...box} />
      {affectedShare > 0 ? <rect className="mark inked" {...box} height={Math.max(LEAST, height * Math.min(1, affectedShare))} /> : null}
    </>
  );
}

/** A fold looks like the edge of a stack of sheets. */
function FoldMark({ node: { x, y, width, height } }: { node: PlacedNode }) {
  const [top, bottom] = [y - 2, y + Math.max(LEAST, height) + 2];
  return <path className="stack" d={`M${x + 4},${top}h${width}V${bottom}M${x + 8},${top - 3}h${width}V${bottom - 3}`} />;
}

function NodeText({ named: { node, label, note } }: { named: NamedNode }) {
  const x = node.labelX + indentOf(node);
  return (
    <>
      <text className={isCode(node) ? 'name code' : 'name'} x={x} y={node.labelY + (note === '' ? 5 : -2)}>
        {label}
      </text>
      {note === '' ? null : (
        <text className="note" x={x} y={node.labelY + 14}>
          {note}
        </text>
      )}
    </>
  );
}

const whatItIs = (node: PlacedNode, chosen: boolean) => (node.foldedCount > 1 ? { 'aria-expanded': false } : { 'aria-pressed': chosen });

export const RiverNodeView = memo(function RiverNodeView({
  named,
  tabStop,
  chosen,
}: {
  named: NamedNode;
  /** One node of the picture is reached by Tab, the others by arrows from it. */
  tabStop: boolean;
  chosen: boolean;
}) {
  const { node, spoken } = named;
  const fold = node.foldedCount > 1;
  return (
    <g
      className={`node${node.affectedShare === 0 ? '' : ' affected'}${fold ? ' fold' : ''}${chosen ? ' chosen' : ''}`}
      role="button"
      tabIndex={tabStop ? 0 : -1}
      aria-label={spoken}
      {...whatItIs(node, chosen)}
      data-node={node.id}
    >
      <title>{spoken}</title>
      <rect className="hit" x={node.x - 6} y={node.y - 4} width={node.width + 12} height={node.height + 8} />
      <rect className="hit" {...labelBox(node)} />
      {fold ? <FoldMark node={node} /> : null}
      <NodeMark node={node} />
    </g>
  );
});

/** The labels lie above bands and nodes, and are read from the nodes' names. */
export const RiverLabels = memo(function RiverLabels({ named }: { named: readonly NamedNode[] }) {
  return (
    <g className="labels" aria-hidden="true">
      {named.map((one) => (
        <NodeText key={one.node.id} named={one} />
      ))}
    </g>
  );
});

function labelBox({ x, labelX, labelY, labelWidth }: PlacedNode) {
  return { x: x - 6, y: labelY - LABEL_HEIGHT / 2, width: labelX - x + labelWidth + 6, height: LABEL_HEIGHT, rx: 3 };
}

/** Around the node that has the focus, and around the one that was chosen. */
export function NodeRing({ node, className }: { node: PlacedNode; className: string }) {
  return <rect className={className} {...labelBox(node)} />;
}

/** What is up- and downstream of a node, drawn again over everything else, which steps back. */
export function RiverLit({ river, named, reach }: { river: River; named: readonly NamedNode[]; reach: Reach }) {
  const bands = [...river.links, ...river.backLinks].filter((band) => reach.holdsBand(band));
  return (
    <g className="lit" aria-hidden="true">
      {inOrder(bands).map((link) => (
        <Band key={keyOf(link)} link={link} />
      ))}
      {named
        .filter(({ node }) => reach.nodes.has(node.id))
        .map((one) => (
          <g key={one.node.id} className={one.node.affectedShare === 0 ? undefined : 'affected'}>
            {one.node.foldedCount > 1 ? <FoldMark node={one.node} /> : null}
            <NodeMark node={one.node} />
            <NodeText named={one} />
          </g>
        ))}
    </g>
  );
}

/** What stands over the columns. */
export const RiverHeads = memo(function RiverHeads({ river, paths }: { river: River; paths: RiverPaths }) {
  return (
    <g className="heads">
      {columnHeads(river).map((head, i) => {
        const first = paths.columns[i]?.[0];
        if (first === undefined) return null;
        const next = paths.columns[i + 1]?.[0];
        const room = next === undefined ? first.labelWidth + first.width : next.x - first.x - 22;
        return (
          <text key={first.id} className="axis" x={first.x} y={18}>
            {fitText(head, room, TEXT_FONT)}
          </text>
        );
      })}
    </g>
  );
});
