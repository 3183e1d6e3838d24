/**
 * Changes of one figure or more that are tried to make a claim hold: what the margin comes to with them,
 * and what they are once they do.
 *
 * Must not know: where they are looked for.
 */
import { executionOf, highOf, lowOf } from "./execution";
import { solveOverlay } from "./solve";
import type { Fit, GivenNumber, Quantity, Solution } from "./system";
import { Trial } from "./trial";

export interface Sought {
  readonly quantity: Quantity;
  /** An equality is to be met, anything else to be passed. */
  readonly exact: boolean;
  /** What the level asks for beyond a margin of nothing, at the nominal. */
  readonly reserve: number;
}

export interface Lead {
  readonly variable: number;
  readonly value: number;
  readonly given: GivenNumber | undefined;
  readonly increment: number;
  /** All it can be, where a list is read by it. */
  readonly listed: readonly number[] | undefined;
}

/** The margin with some figures at other places; what is only assumed is taken as given for it. */
export function trialOf(solution: Solution, quantity: Quantity, leads: readonly Lead[]): Trial {
  const assumed = leads.filter(({ given }) => given === undefined);
  const base =
    assumed.length === 0
      ? solution
      : withFigures(
          solution,
          assumed.map((lead) => [lead, lead.value]),
        );
  return new Trial(
    executionOf(base),
    quantity,
    leads.map(({ variable }) => variable),
  );
}

export function withFigures(
  solution: Solution,
  figures: readonly (readonly [Lead, number])[],
): Solution {
  const givens = new Map(
    figures.map(([{ variable, given }, value]): [number, GivenNumber] => [
      variable,
      {
        ...given,
        value,
        low: value - (given === undefined ? 0 : given.value - given.low),
        high: value + (given === undefined ? 0 : given.high - given.value),
        rounding: 0,
      },
    ]),
  );
  return solveOverlay(solution, { givens });
}

export function fitOf(solution: Solution, figures: readonly (readonly [Lead, number])[]): Fit {
  const { variables } = solution.system;
  const effort = figures.reduce(
    (sum, [lead, value]) => sum + Math.abs(value - lead.value) / variables[lead.variable]!.scale,
    0,
  );
  const [[lead, value], also] = figures as [readonly [Lead, number], (readonly [Lead, number])?];
  return {
    variable: lead.variable,
    value,
    effort,
    ...(also === undefined ? {} : { also: { variable: also[0].variable, value: also[1] } }),
  };
}

export function isAllowed(solution: Solution, variable: number, value: number): boolean {
  const about = solution.system.variables[variable]!;
  return value >= lowOf(about) && value <= highOf(about);
}

/** No contradiction and no failure that was not there before. */
export function noWorse(before: Solution, after: Solution): boolean {
  const conflicts = new Set(before.conflicts.map((conflict) => conflict.equation));
  const failures = new Set(before.failures.flatMap((failure) => failure.equations));
  return (
    after.conflicts.every((conflict) => conflicts.has(conflict.equation)) &&
    after.failures.every((failure) => failure.equations.every((e) => failures.has(e)))
  );
}
