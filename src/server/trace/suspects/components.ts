/**
 * The nodes of a graph with every cycle condensed into one component, those that are led to before those that lead to them (Tarjan 1972,
 * "Depth-first search and linear graph algorithms"; a loop instead of recursion, as heel chains run to thousands of lots).
 */
export function componentsLastFirst(next: readonly (readonly number[])[]): number[][] {
  const count = next.length;
  const index = new Int32Array(count).fill(-1);
  const low = new Int32Array(count);
  const step = new Int32Array(count);
  const open = new Uint8Array(count);
  const stack: number[] = [];
  const components: number[][] = [];
  let seen = 0;
  const enter = (node: number): void => {
    index[node] = low[node] = seen++;
    open[node] = 1;
    stack.push(node);
  };
  const lower = (node: number, to: number): void => {
    if (to < (low[node] ?? 0)) low[node] = to;
  };
  for (let root = 0; root < count; root++) {
    if (index[root] !== -1) continue;
    enter(root);
    for (const path = [root]; path.length > 0;) {
      const node = path.at(-1) ?? 0;
      const child = next[node]?.[step[node] ?? 0];
      if (child !== undefined) {
        step[node] = (step[node] ?? 0) + 1;
        if (index[child] === -1) {
          enter(child);
          path.push(child);
        } else if (open[child] === 1) lower(node, index[child] ?? 0);
        continue;
      }
      path.pop();
      const parent = path.at(-1);
      if (parent !== undefined) lower(parent, low[node] ?? 0);
      if (low[node] === index[node]) components.push(close(stack, open, node));
    }
  }
  return components;
}

function close(stack: number[], open: Uint8Array, root: number): number[] {
  const component: number[] = [];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    open[node] = 0;
    component.push(node);
    if (node === root) break;
  }
  return component;
}
