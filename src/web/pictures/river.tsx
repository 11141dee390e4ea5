import { type ReactNode, useCallback, useMemo, useRef, useState } from 'react';
import type { TraceFlow } from '../../../shared/api/flow.js';
import { riverLotId, riverOfTrace } from '../../../shared/river-of-trace.js';
import type { RiverGraph } from '../../../shared/trace-graph.js';
import { layoutTrace, type River as Laid } from '../../../shared/trace-layout.js';
import { writtenCount } from '../../../shared/written.js';
import { HEAD, namedNodes, NodeRing, RiverBands, RiverHeads, RiverLabels, RiverLit, RiverNodeView } from './river-drawing.js';
import { pathsOf, reachOf, type RiverPaths } from './river-paths.js';
import { riverOptions } from './river-size.js';
import { RiverTold } from './river-told.js';
import { useFonts } from './use-fonts.js';
import { useRiverFocus } from './use-river-focus.js';
import { useWidth } from './use-width.js';
import './river.css';

const NONE: readonly string[] = [];

/**
 * The river: how traced material flowed, from where it came on the left to where it is now on the right. Pointer and keyboard show the
 * same: everything up- and downstream of a node, and a line that tells of it. What is too much to read is folded and says how much it is;
 * it unfolds on demand. The page that draws it has a table that says the same.
 */
export function River({
  flow,
  label,
  origins = NONE,
  shares,
  inked = 'affected',
  marked = null,
  onMark,
  chosen = null,
  onChoose,
  stampsOf,
  actionsOf,
}: {
  flow: TraceFlow;
  /** What it is the river of, as `Forward from R26-00032`. */
  label: string;
  /** Lots where the trace starts: they never fold. */
  origins?: readonly string[];
  /** By lot: the part of it that stems from the origin. */
  shares?: ReadonlyMap<string, number | null>;
  /** What ink says of a lot: of a backward trace it is not `affected`, but `in it`. */
  inked?: string;
  /** Id of a node (`riverLotId`, `riverCustomerId`) that is pointed at elsewhere on the page. */
  marked?: string | null;
  /** Pointer or focus came to a node that is one lot, customer or place; null when it left. */
  onMark?: (id: string | null) => void;
  chosen?: string | null;
  onChoose?: (id: string | null) => void;
  stampsOf?: (lot: string) => ReactNode;
  /** What can be done about a node that was chosen. */
  actionsOf?: (id: string) => ReactNode;
}) {
  const [room, width] = useWidth<HTMLDivElement>();
  const fonts = useFonts();
  const [open, setOpen] = useState<readonly string[]>(NONE);
  const graph = useMemo(() => riverOfTrace(flow), [flow]);
  const river = useMemo(
    () => (width === 0 ? null : layoutTrace(graph, { ...riverOptions(graph.nodes.length, width), open, keep: origins.map(riverLotId) })),
    [graph, width, open, origins],
  );
  const lots = useMemo(() => new Map(flow.lots.map((lot) => [riverLotId(lot.lot), lot])), [flow]);
  const labels = useMemo(() => new Map(graph.nodes.map((node) => [node.id, node.label])), [graph]);
  const labelOf = useCallback((id: string): string => labels.get(id) ?? id, [labels]);

  if (graph.nodes.length === 0) return <p className="quiet">There is nothing to draw.</p>;
  return (
    <div className="river">
      <div className="river-width" ref={room} />
      {river === null ? (
        <div className="river-waiting" />
      ) : (
        <Drawn
          key={label}
          {...{ graph, river, wider: river.width > width, label, inked, fonts, open, setOpen, labelOf, marked, onMark, chosen, onChoose }}
          told={(node) => {
            const lot = node === null ? undefined : lots.get(node.id);
            return {
              lot,
              share: lot === undefined ? undefined : shares?.get(lot.lot),
              stamps: lot === undefined ? null : stampsOf?.(lot.lot),
              actions: node !== null && node.foldedCount === 1 ? actionsOf?.(node.id) : null,
            };
          }}
        />
      )}
    </div>
  );
}

interface DrawnProps {
  readonly graph: RiverGraph;
  readonly river: Laid;
  /** Than the page has room. */
  readonly wider: boolean;
  readonly label: string;
  readonly inked: string;
  readonly fonts: number;
  readonly open: readonly string[];
  readonly setOpen: (open: readonly string[]) => void;
  readonly labelOf: (id: string) => string;
  readonly marked: string | null;
  readonly onMark: ((id: string | null) => void) | undefined;
  readonly chosen: string | null;
  readonly onChoose: ((id: string | null) => void) | undefined;
  readonly told: (
    node: Laid['nodes'][number] | null,
  ) => Pick<Parameters<typeof RiverTold>[0], 'lot' | 'share'> & { stamps?: ReactNode; actions?: ReactNode };
}

function Drawn({ graph, river, wider, label, inked, fonts, open, setOpen, labelOf, marked, onMark, chosen, onChoose, told }: DrawnProps) {
  const paths = useMemo(() => pathsOf(river), [river]);
  // oxlint-disable-next-line react-hooks/exhaustive-deps -- a font that has come changes what was measured
  const named = useMemo(() => namedNodes(river, labelOf, inked), [river, labelOf, inked, fonts]);
  const svg = useRef<SVGSVGElement>(null);
  const unfold = (id: string): void => setOpen([...open, id]);
  const foldAgain = (id: string): void => setOpen(open.filter((one) => one !== id && !one.startsWith(`${id} / `)));
  const chosenNode = nodeOf(paths, chosen);
  const focus = useRiverFocus({ svg, river, paths, start: chosenNode?.id ?? null, onMark, onChoose, chosen, unfold, foldAgain });
  const litNode = nodeOf(paths, focus.pointed ?? focus.focused ?? marked);
  const reach = useMemo(() => (litNode === null ? null : reachOf(litNode.id, paths, graph)), [litNode, paths, graph]);
  const toldNode = litNode ?? chosenNode;
  const ringed = focus.focused === null ? undefined : paths.node.get(focus.focused);
  const [across, down] = [river.width, river.height + HEAD];
  const size = { width: across, height: down, viewBox: `0 0 ${across} ${down}` };
  const { lot, share, stamps } = told(toldNode);
  const { actions } = told(chosenNode);
  const within = toldNode?.within.at(-1);
  return (
    <>
      <RiverTold
        node={toldNode}
        lot={lot}
        share={share}
        labelOf={labelOf}
        inked={inked}
        stamps={stamps}
        actions={
          within !== undefined || actions ? (
            <>
              {actions}
              {within === undefined ? null : <FoldAgain river={river} id={within} onFold={focus.foldAgain} />}
            </>
          ) : null
        }
      />
      {/* A region that scrolls sideways must be reachable by keyboard; its picture is. */}
      <div className="river-room" role="region" aria-label={`River, ${label}`}>
        <div className="river-sheets">
          <svg ref={svg} className="picture" {...size} role="group" aria-label={`${label}: ${saySize(river, inked)}`} {...focus.handlers}>
            <RiverHeads river={river} paths={paths} />
            <g transform={`translate(0,${HEAD})`}>
              <RiverBands river={river} />
              <g className="nodes">
                {named.map((one) => (
                  <RiverNodeView
                    key={one.node.id}
                    named={one}
                    tabStop={one.node.id === focus.tabStop}
                    chosen={one.node.id === chosenNode?.id}
                  />
                ))}
              </g>
              <RiverLabels named={named} />
            </g>
          </svg>
          {/* A sheet of its own over the river: what lights up is drawn there, and the river under it is not drawn anew. */}
          <svg className="picture over" {...size} aria-hidden="true">
            {reach === null ? null : <rect className="veil" y={HEAD} width={river.width} height={river.height} />}
            <g transform={`translate(0,${HEAD})`}>
              {reach === null ? null : <RiverLit river={river} named={named} reach={reach} />}
              {chosenNode === null ? null : <NodeRing node={chosenNode} className="ring chosen" />}
              {ringed === undefined || !focus.byKeyboard ? null : <NodeRing node={ringed} className="ring focus" />}
            </g>
          </svg>
        </div>
      </div>
      <p className="river-legend">
        <span className="key affected" aria-hidden="true" /> {inked} <span className="key" aria-hidden="true" /> not {inked} · Bands are as
        wide as what went: its weight, or its pieces where nothing is weighed.
        {river.backLinks.length === 0 ? null : ' Bands that run back below the columns are rework; their width is not to scale.'}
        {river.nodes.length < river.totalNodes ? ` ${sayFolded(river)}` : null}
        {wider ? <span className="no-print"> The river is wider than the page and goes on to the right: it scrolls sideways.</span> : null}
      </p>
      {river.opened.length === 0 ? null : (
        <div className="row no-print">
          {river.opened.map(({ id }) => (
            <FoldAgain key={id} river={river} id={id} onFold={focus.foldAgain} />
          ))}
        </div>
      )}
    </>
  );
}

function nodeOf({ node, drawnIn }: RiverPaths, id: string | null) {
  return id === null ? null : (node.get(id) ?? node.get(drawnIn.get(id) ?? '') ?? null);
}

const saySize = (river: Laid, inked: string): string =>
  `${writtenCount(river.totalNodes)} lots, customers and places, ${writtenCount(river.nodes.filter((node) => node.affectedShare !== 0).length)} nodes drawn are ${inked}. Arrows go along the flow.`;

const sayFolded = (river: Laid): string =>
  `${writtenCount(river.totalNodes)} lots, customers and places are drawn as ${writtenCount(river.nodes.length)}; each that stands for several says how many, and unfolds.`;

function FoldAgain({ river, id, onFold }: { river: Laid; id: string; onFold: (id: string) => void }) {
  const fold = river.opened.find((one) => one.id === id);
  return fold === undefined ? null : (
    <button type="button" onClick={() => onFold(id)}>
      Fold {fold.label} again
    </button>
  );
}
