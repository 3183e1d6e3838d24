/**
 * Where a value comes from, as plain data: the equation that yields it, and each input in turn. An
 * input that serves twice is one node, reached twice.
 *
 * Must not know: wording, units.
 */
import { executionOf } from "./execution";
import type { Determination, Solution } from "./system";

export interface SolvedDerivation {
  readonly variable: number;
  /** NaN where open or failed. */
  readonly value: number;
  readonly determination: Determination;
  /** The variables it was solved together with, itself included; empty for givens. */
  readonly together: readonly number[];
  /** What its equations take from outside; empty at givens and where the depth ends. */
  readonly inputs: readonly SolvedDerivation[];
  /** True where inputs exist but lie beyond the asked depth. */
  readonly more: boolean;
}

/** `depth` counts steps from the asked variable: 1 gives its inputs, 2 theirs too. */
export function explain(
  solution: Solution,
  variable: number,
  depth = 1,
): SolvedDerivation | undefined {
  if (solution.determinations[variable] === undefined) return undefined;
  const nodes = new Map<number, Node>();
  const top = nodeFor(solution, variable, nodes);
  let level = [top];
  for (let reached = 0; reached < depth && level.length > 0; reached++) {
    const next: Node[] = [];
    for (const node of level) {
      for (const input of inputsOf(solution, node)) {
        const isNew = !nodes.has(input);
        const inner = nodeFor(solution, input, nodes);
        node.inputs.push(inner);
        if (isNew) next.push(inner);
      }
      node.more = false;
    }
    level = next;
  }
  return top;
}

interface Node extends SolvedDerivation {
  readonly inputs: Node[];
  more: boolean;
}

function nodeFor(solution: Solution, variable: number, nodes: Map<number, Node>): Node {
  let node = nodes.get(variable);
  if (node === undefined) {
    const { stepOf, steps } = executionOf(solution);
    const step = steps[stepOf[variable]!];
    node = {
      variable,
      value: solution.values[variable]!,
      determination: solution.determinations[variable]!,
      together: step?.variables ?? [],
      inputs: [],
      more: step !== undefined,
    };
    nodes.set(variable, node);
  }
  return node;
}

function inputsOf(solution: Solution, node: Node): number[] {
  const { stepOf, steps } = executionOf(solution);
  const step = steps[stepOf[node.variable]!];
  if (step === undefined) return [];
  const inputs = new Set<number>();
  for (const equation of step.equations) {
    for (const variable of solution.system.equations[equation]!.variables) {
      if (!step.variables.includes(variable)) inputs.add(variable);
    }
  }
  return [...inputs];
}
