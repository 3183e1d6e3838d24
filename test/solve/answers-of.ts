/** A few equations solved together, and all their answers, asked of what solves and searches itself. */
import { allAnswers } from "../../server/solve/all-answers";
import type { Block } from "../../server/solve/block";
import { factsOf } from "../../server/solve/form";
import { SystemBuilder, type Term } from "./build";

type Limits = readonly [low: number, high: number];

/** Equations `term = 0` in some unknowns, all in one range or each in its own. */
export function blockOf(
  unknowns: readonly string[],
  terms: readonly Term[],
  limits: Limits | readonly Limits[],
  scale = 1,
): Block {
  const builder = new SystemBuilder();
  for (const name of unknowns) builder.variable(name);
  terms.forEach((term, at) => {
    builder.equation(`e${at}`, term, 0);
  });
  const { variables, equations } = builder.system();
  const limitsOf = (at: number): Limits =>
    typeof limits[0] === "number" ? (limits as Limits) : (limits[at] as Limits);
  return {
    facts: equations.map(({ form }) => factsOf(form)),
    slots: equations.map((equation) => equation.variables),
    preference: equations.map((_, at) => at),
    unknowns: variables.map((_, at) => at),
    scales: variables.map(() => scale),
    lows: variables.map((_, at) => limitsOf(at)[0]),
    highs: variables.map((_, at) => limitsOf(at)[1]),
    guesses: variables.map(() => Number.NaN),
  };
}

/** Answers of equations `term = 0` in some unknowns within a range. */
export function answersOf(
  unknowns: readonly string[],
  terms: readonly Term[],
  limits: Limits,
  boxes?: number,
) {
  const block = blockOf(unknowns, terms, limits);
  return allAnswers(block, new Float64Array(block.unknowns.length), boxes);
}
