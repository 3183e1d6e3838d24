/**
 * Strongly connected components of a directed graph, each after everything it leads to (Tarjan
 * 1972), without recursion.
 *
 * Must not know: equations, values.
 */

/** `next(node)` lists where a node leads; nodes are visited in the order of `nodes`. */
export function stronglyConnected(
  nodes: readonly number[],
  size: number,
  next: (node: number) => readonly number[],
): readonly (readonly number[])[] {
  const index = new Int32Array(size).fill(-1);
  const lowest = new Int32Array(size);
  const onStack = new Uint8Array(size);
  const stack: number[] = [];
  const components: number[][] = [];
  let counter = 0;
  for (const root of nodes) {
    if (index[root] !== -1) continue;
    const path: { node: number; edges: readonly number[]; at: number }[] = [];
    const enter = (node: number): void => {
      index[node] = counter;
      lowest[node] = counter;
      counter++;
      stack.push(node);
      onStack[node] = 1;
      path.push({ node, edges: next(node), at: 0 });
    };
    enter(root);
    while (path.length > 0) {
      const top = path[path.length - 1]!;
      if (top.at < top.edges.length) {
        const other = top.edges[top.at++]!;
        if (index[other] === -1) enter(other);
        else if (onStack[other] === 1) {
          lowest[top.node] = Math.min(lowest[top.node]!, index[other]!);
        }
        continue;
      }
      path.pop();
      const parent = path[path.length - 1];
      if (parent !== undefined) {
        lowest[parent.node] = Math.min(lowest[parent.node]!, lowest[top.node]!);
      }
      if (lowest[top.node] !== index[top.node]) continue;
      const component: number[] = [];
      for (;;) {
        const node = stack.pop()!;
        onStack[node] = 0;
        component.push(node);
        if (node === top.node) break;
      }
      components.push(component);
    }
  }
  return components;
}
