/**
 * A system as it is drawn: everything written holds as far as it can, wishes too. Wishes that mirror
 * each other and cannot all hold miss by equal amounts, so that no side is served before the other.
 *
 *     draw(system)   →   the solution; a wish that gave way has another value than was written
 *
 * Must not know: text, units, kinds, files; how things are made.
 */
import { gradientAt, sweepBack } from "./adjoint";
import { executionOf } from "./execution";
import { magnitude, residual } from "./form";
import { Misses } from "./misses";
import { byName } from "./network";
import { solve, solveOverlay } from "./solve";
import type { Equation, GivenNumber, Solution, System } from "./system";

/** Each round evens out one more group of wishes; there are not many that clash. */
const ROUNDS = 12;

/** Solves a system, beside another solution that has much in common with it. */
export type Solving = (system: System, beside?: Solution) => Solution;

export function draw(system: System, solved: Solving = solve): Solution {
  let drawn = solved(system);
  const groups = wishesThatMirror(system);
  const evened = new Set<number>();
  while (evened.size < ROUNDS) {
    const clash = groups.findIndex((group, at) => !evened.has(at) && missesUnevenly(drawn, group));
    if (clash < 0) break;
    evened.add(clash);
    const even = new Misses(system);
    for (const at of evened) {
      even.alike(groups[at]!);
      even.balanced(groups[at]!);
    }
    drawn = solved(even.system, drawn);
    written.set(drawn, system.equations.length);
  }
  return drawn;
}

/** How many equations there were before wishes were evened out. */
const written = new WeakMap<Solution, number>();

/** It stands for wishes that cannot all hold: that they miss alike. */
export function isEvened(drawn: Solution, equation: number): boolean {
  return equation >= (written.get(drawn) ?? Number.POSITIVE_INFINITY);
}

/**
 * The same drawing with the wishes it holds as givens: for what they are to bear, such as the ± of a
 * wish in what follows from it, and what another wish would change.
 */
export function withWishesGiven(drawn: Solution): Solution {
  const { variables, equations } = drawn.system;
  const givens = new Map<number, GivenNumber>();
  const without = new Set<number>();
  for (const equation of admitted(drawn)) {
    const { rank, variables: own } = equations[equation]!;
    const only = own[0]!;
    const { wish } = variables[only]!;
    if (rank !== "wanted" || own.length !== 1 || wish === undefined) continue;
    givens.set(only, wish);
    without.add(equation);
  }
  return givens.size === 0 ? drawn : solveOverlay(drawn, { givens, without });
}

/** Wishes of the same kind about figures that mirror each other, by name. */
export function wishesThatMirror({ variables, equations }: System): (readonly number[])[] {
  const forms = new Map<Equation["form"], number>();
  const groups = new Map<string, number[]>();
  for (const [index, equation] of equations.entries()) {
    if (equation.rank !== "wanted") continue;
    if (!equation.variables.some((variable) => variables[variable]!.twin !== undefined)) continue;
    const single = equation.variables.length === 1;
    const form = forms.get(equation.form) ?? forms.size;
    forms.set(equation.form, form);
    // Wishes of one figure each may be of different sizes.
    const key = [
      single ? "" : form,
      ...equation.variables.map(
        (variable) => variables[variable]!.twin ?? variables[variable]!.name,
      ),
    ].join("\n");
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [index]);
    else group.push(index);
  }
  const order = byName(equations);
  return [...groups.values()]
    .filter((group) => group.length > 1)
    .map((group) => group.sort(order))
    .sort(([one = 0], [other = 0]) => order(one, other));
}

/** The soft equations that the solution is made with. */
export function admitted(solution: Solution): Set<number> {
  const { equations } = solution.system;
  const used = new Set<number>();
  for (const step of executionOf(solution).steps) {
    for (const equation of step.equations) {
      if (equations[equation]!.rank !== "relation") used.add(equation);
    }
  }
  return used;
}

/** One of the group holds, another does not, and what that one misses by hangs on the one that holds. */
function missesUnevenly(solution: Solution, group: readonly number[]): boolean {
  const execution = executionOf(solution);
  const { system } = solution;
  const used = admitted(solution);
  const held = group.filter((equation) => used.has(equation));
  return group.some((equation) => {
    if (used.has(equation)) return false;
    const { variables } = system.equations[equation]!;
    const facts = execution.network.facts[equation]!;
    // None where a figure is open.
    const gap = Math.abs(residual(facts, solution.values, variables));
    if (!(gap > 1e-9 * magnitude(facts))) return false;
    const sweep = sweepBack(execution, variables, [...gradientAt(execution, equation)]);
    return held.some((other) => sweep.byEquation.has(other));
  });
}
