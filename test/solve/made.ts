import { draw, outcomeOf } from "../../server/solve";
import type { Claim, Making, Solution, System, Variable } from "../../server/solve/system";
import { add, SystemBuilder, valueNamed } from "./build";

export const making = (step: number | undefined, more: Partial<Making> = {}): Making => ({
  off: 0,
  offShare: 0,
  said: true,
  order: 0,
  ...(step === undefined ? {} : { step }),
  ...more,
});
export const made = (step: number | undefined, more: Partial<Making> = {}): Partial<Variable> => ({
  role: "made",
  making: making(step, more),
});

/** The system with more said about some of its figures. */
export function about(
  builder: SystemBuilder,
  more: Readonly<Record<string, Partial<Variable>>>,
): System {
  const { variables, equations } = builder.system();
  return {
    equations,
    variables: variables.map((variable) => ({ ...variable, ...more[variable.name] })),
  };
}

export function comesOut(system: System, claims: readonly Claim[] = []) {
  const drawn = draw(system);
  const outcome = outcomeOf(drawn, claims);
  return { drawn, outcome, of: (name: string) => valueNamed(outcome, name) };
}

export const indexOf = (solution: Solution, name: string): number =>
  solution.system.variables.findIndex((variable) => variable.name === name);
export const limitsOf = (solution: Solution, name: string): readonly number[] => {
  const { low, high } = solution.system.variables[indexOf(solution, name)]!.given!;
  return [low, high];
};

/** A mark from a limit and a gap that is wanted: mark = limit + gap. */
export const marked = (limit: number, wish: number): SystemBuilder =>
  new SystemBuilder()
    .given({ limit })
    .equation("mark", "mark", add("limit", "gap"))
    .equation("gap wish", "gap", wish, "wanted");
