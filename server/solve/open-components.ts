/**
 * Relations that hang together by what is open in them.
 *
 *     x + y = 6, y + z = 2, a = 3   →   [the first two, with x, y and z]
 *
 * Must not know: what such relations fix.
 */
import { ByPlan } from "./by-plan";
import type { Execution } from "./execution";
import { byName } from "./network";

/** Open parts of more equations are not looked through. */
const MOST_ROWS = 2000;

export interface OpenComponent {
  readonly equations: readonly number[];
  readonly variables: readonly number[];
  /** The same. */
  readonly members: ReadonlySet<number>;
}

const openKnown = new ByPlan<readonly OpenComponent[]>();

/** What failed, failed by its numbers: else structure says what is open. */
export function openIn(execution: Execution): readonly OpenComponent[] {
  const { layout, failures, excluded } = execution;
  const make = (): readonly OpenComponent[] => openComponents(execution);
  return layout === undefined || failures.size > 0
    ? make()
    : openKnown.get(layout, [excluded], make);
}

/**
 * Relations by what is open in them. What only a default or an assumption settles counts as open: it
 * gives way to what relations fix. Where nothing runs in a circle structure has said all there is.
 */
function openComponents(execution: Execution): OpenComponent[] {
  const { network, values, failures } = execution;
  const { system, touchStart, touching } = network;
  if (!values.some((value) => Number.isNaN(value))) return [];
  const soft = softlySettled(execution);
  const isOpen = (variable: number): boolean =>
    network.known[variable] === 0 &&
    !failures.has(variable) &&
    (Number.isNaN(values[variable]) || soft[variable] === 1);
  const seen = new Uint8Array(system.variables.length);
  const taken = new Uint8Array(system.equations.length);
  const parts: OpenComponent[] = [];
  for (let start = 0; start < system.variables.length; start++) {
    if (seen[start] === 1 || !Number.isNaN(values[start]) || !isOpen(start)) continue;
    seen[start] = 1;
    const variables = [start];
    const equations: number[] = [];
    for (let at = 0; at < variables.length; at++) {
      const variable = variables[at]!;
      for (let i = touchStart[variable]!; i < touchStart[variable + 1]!; i++) {
        const equation = touching[i]!;
        if (taken[equation] === 1) continue;
        taken[equation] = 1;
        const own = system.equations[equation]!;
        // What failed cannot be reasoned with, and kinks run otherwise elsewhere.
        if (own.rank !== "relation" || network.facts[equation]!.tape.kinked) continue;
        if (own.variables.some((each) => Number.isNaN(values[each]) && !isOpen(each))) continue;
        equations.push(equation);
        for (const each of own.variables) {
          if (seen[each] === 1 || !isOpen(each)) continue;
          seen[each] = 1;
          variables.push(each);
        }
      }
    }
    if (equations.length < 2 || equations.length > MOST_ROWS) continue;
    const members = new Set(variables);
    if (!runsInCircle(execution, { equations, variables, members })) continue;
    parts.push({
      equations: inOrder(equations, byName(system.equations)),
      variables: inOrder(variables, byName(system.variables)),
      members,
    });
  }
  return parts;
}

/** Most systems stand in the order of their names. */
function inOrder(places: readonly number[], order: (one: number, other: number) => number) {
  return [...Int32Array.from(places).sort()].sort(order);
}

/** 1 for what rests on a default, a wish or an assumed relation. */
function softlySettled({ network, steps }: Execution): Uint8Array {
  const { variables, equations } = network.system;
  const soft = new Uint8Array(variables.length);
  for (const step of steps) {
    const rests = step.equations.some((each) => {
      const { rank, variables: own } = equations[each]!;
      return rank !== "relation" || own.some((v) => soft[v] === 1);
    });
    if (rests) for (const variable of step.variables) soft[variable] = 1;
  }
  return soft;
}

/** Without a circle of equations and figures nothing can cancel. */
function runsInCircle(
  { network }: Execution,
  { equations, variables, members }: OpenComponent,
): boolean {
  let joins = 0;
  for (const equation of equations) {
    for (const variable of network.system.equations[equation]!.variables) {
      if (members.has(variable)) joins++;
    }
  }
  // They all hang together: a tree has one join less than it has nodes.
  return joins >= equations.length + variables.length;
}
