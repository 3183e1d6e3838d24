/** All answers of a few equations, asked of the search itself. */
import { allAnswers } from "../../server/solve/all-answers";
import { factsOf } from "../../server/solve/form";
import { SystemBuilder, type Term } from "./build";

/** Answers of equations `term = 0` in some unknowns within a range. */
export function answersOf(
  unknowns: readonly string[],
  terms: readonly Term[],
  [low, high]: readonly [number, number],
  boxes?: number,
) {
  const builder = new SystemBuilder();
  for (const name of unknowns) builder.variable(name, { range: [low, high] });
  terms.forEach((term, at) => {
    builder.equation(`e${at}`, term, 0);
  });
  const { variables, equations } = builder.system();
  return allAnswers(
    {
      facts: equations.map(({ form }) => factsOf(form)),
      slots: equations.map((equation) => equation.variables),
      preference: equations.map((_, at) => at),
      unknowns: variables.map((_, at) => at),
      scales: variables.map(() => 1),
      lows: variables.map(() => low),
      highs: variables.map(() => high),
      guesses: variables.map(() => Number.NaN),
    },
    new Float64Array(variables.length),
    boxes,
  );
}
