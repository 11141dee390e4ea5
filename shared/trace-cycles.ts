import type { Flow, RiverNode } from './trace-graph.js';
import { isEnd } from './trace-graph.js';

function bySource(flows: readonly Flow[]): Map<string, Flow[]> {
  const out = new Map<string, Flow[]>();
  for (const flow of flows) {
    const list = out.get(flow.source);
    if (list === undefined) out.set(flow.source, [flow]);
    else list.push(flow);
  }
  return out;
}

/**
 * Parts the flows into those that only run onward and those that run back (rework into an earlier batch, a lot into itself).
 * A depth-first walk from the oldest node calls a flow back when it ends on the path that led to it, so the younger end of a
 * circle is where it is cut. The walk keeps its own stack: a chain of heels may be deeper than the call stack.
 * @param nodes in the order in which to start; older before younger
 */
export function breakCycles(nodes: readonly RiverNode[], flows: readonly Flow[]): { onward: Flow[]; back: Flow[] } {
  const out = bySource(flows);
  const state = new Map<string, 'open' | 'done'>();
  const back = new Set<Flow>();
  const entered = new Set(flows.filter(({ source, target }) => source !== target).map(({ target }) => target));
  const starts = [...nodes.filter(({ id }) => !entered.has(id)), ...nodes.filter(({ id }) => entered.has(id))];
  for (const { id } of starts) {
    if (state.has(id)) continue;
    const path = [{ id, next: 0 }];
    state.set(id, 'open');
    for (let top = path.at(-1); top !== undefined; top = path.at(-1)) {
      const flow = out.get(top.id)?.[top.next];
      top.next += 1;
      if (flow === undefined) {
        state.set(top.id, 'done');
        path.pop();
      } else if (state.get(flow.target) === 'open') {
        back.add(flow);
      } else if (!state.has(flow.target)) {
        state.set(flow.target, 'open');
        path.push({ id: flow.target, next: 0 });
      }
    }
  }
  return { onward: flows.filter((flow) => !back.has(flow)), back: [...back] };
}

/**
 * The column of every node: as many steps from the left as its longest way there. Ends that lead nowhere stand in the last column.
 * @param onward flows without circles
 */
export function columnsOf(nodes: readonly RiverNode[], onward: readonly Flow[]): Map<string, number> {
  const out = bySource(onward);
  const waiting = new Map<string, number>();
  for (const { target } of onward) waiting.set(target, (waiting.get(target) ?? 0) + 1);
  const column = new Map(nodes.map(({ id }) => [id, 0]));
  const ready = nodes.filter(({ id }) => !waiting.has(id)).map(({ id }) => id);
  let last = 0;
  for (let id = ready.pop(); id !== undefined; id = ready.pop()) {
    const next = (column.get(id) ?? 0) + 1;
    for (const { target } of out.get(id) ?? []) {
      column.set(target, Math.max(column.get(target) ?? 0, next));
      last = Math.max(last, next);
      const left = (waiting.get(target) ?? 0) - 1;
      waiting.set(target, left);
      if (left === 0) ready.push(target);
    }
  }
  for (const node of nodes) if (isEnd(node) && !out.has(node.id)) column.set(node.id, last);
  return column;
}
