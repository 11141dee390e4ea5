import { riverOfTrace } from '../../../../shared/river-of-trace.js';
import type { RiverGraph } from '../../../../shared/trace-graph.js';
import { traceFlow } from '../../trace/flow.js';
import type { KnownLink } from '../../trace/link.js';
import type { Figures } from './figures.query.js';

/** More lots than this are told in tables only. */
const MOST_LOTS = 4000;

/** How the affected material went: the river that the screen draws of the same trace. */
export function recallRiver(figures: Figures, linksInto: (lotId: number) => readonly KnownLink[]): RiverGraph | null {
  const { affected } = figures;
  if (affected.size === 0 || affected.size > MOST_LOTS) return null;
  return riverOfTrace(traceFlow({ ...figures, linksInto }));
}
