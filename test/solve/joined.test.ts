/** Figures of several systems put side by side, held to one system of all their equations. */
import { describe, expect, test } from "vitest";
import { Plans } from "../../server/solve/cell";
import { executionOf } from "../../server/solve/execution";
import type { Condition, Expression } from "../../server/solve/expression";
import type { Key, KeyedEquation, ReadAs, Solved } from "../../server/solve/keyed";
import { sensitivities } from "../../server/solve/sensitivity";
import type { Variable } from "../../server/solve/system";
import { verdictOf } from "../../server/solve/verdict";
import { add, compare, exactly, mul, pow, sub, type Term, within } from "./build";
import { slot } from "./told-ranges";

const givens = {
  a: within(3, 0.1),
  d: exactly(5),
  g: exactly(2),
  u: within(7, 0.3),
  w: exactly(1),
};
const keyOf = new Map<string, Key>();
const key = (name: string): Key => {
  const made = keyOf.get(name) ?? { serial: keyOf.size, name, file: "" };
  keyOf.set(name, made);
  return made;
};
const variableOf = ({ name }: Key): Variable => {
  const given = givens[name as keyof typeof givens];
  return {
    name,
    scale: 1,
    askedFirst: false,
    range: [-90, 90],
    // Given without a tolerance, as it is made only as it comes out.
    ...(name === "d"
      ? { role: "made", making: { off: 0.2, offShare: 0, said: true, order: 0 } }
      : {}),
    ...(given === undefined ? {} : { given }),
  };
};
const equation = (
  name: string,
  figures: readonly string[],
  left: Term,
  right: Term,
  slack = 0,
): KeyedEquation<Key> => ({
  name,
  form: { left: left as Expression, right: right as Expression, slots: figures.length },
  figures: figures.map(key),
  rank: "relation",
  ...(slack === 0 ? {} : { slack }),
});
const [p, q, r] = [slot(0), slot(1), slot(2)];

// x and y are solved together, h is left open, w and b are led to by nothing that is asked for.
const first = [
  equation("double", ["a", "b"], mul(2, p), q, 0.05),
  equation("sum", ["x", "y", "a"], add(p, mul(3, q)), r),
  equation("apart", ["x", "y", "b"], sub(p, q), r),
  equation("beside", ["idle", "x"], p, add(q, 1)),
];
const second = [
  equation("scaled", ["f", "d", "a"], p, mul(q, r), 0.4),
  equation("bent", ["k", "f", "g"], add(pow(p, 3), p), add(q, r)),
  equation("open", ["h", "open", "g"], add(p, q), r),
];
const wanted = ["x", "k", "u", "h", "y", "d", "alone"];

const solvedBoth = (as: ReadAs): readonly Solved<Key>[] => {
  const plans = new Plans();
  const cells = [first, second].map((own) => plans.cell(own, variableOf));
  const whole = plans.cell([...first, ...second], variableOf, [key("u"), key("alone")]);
  return [plans.joined(cells, wanted.map(key), variableOf, as), whole.read(as)];
};

const quantityIn = (solved: Solved<Key>) => ({
  expression: add(mul(p, q), r, slot(3)),
  variables: ["x", "k", "u", "y"].map((name) => solved.placeOf(key(name))!),
});

describe.each(["solution", "outcome"] as const)("%s", (as) => {
  test("every figure asked for is what it is where all is solved as one", () => {
    const [side, whole] = solvedBoth(as).map((solved) =>
      wanted.map((name) => {
        const at = solved.placeOf(key(name))!;
        const { solution } = solved;
        const told = solution.determinations[at]!;
        const names = (places: readonly number[]) =>
          places.map((place) => solved.equationAt(place)?.name).sort();
        return {
          name: solved.keys[at]?.name,
          own: solution.system.variables[at]!.given,
          value: solution.values[at],
          size: Number.isNaN(solution.values[at]) ? 0 : executionOf(solution).sizes[at],
          how: told.how,
          by: told.how === "solved" ? solved.equationAt(told.equation)?.name : "",
          block: told.how === "solved" ? names(told.block) : [],
        };
      }),
    );
    expect(side).toEqual(whole);
    // x + 3y = 3 and x − y = 6: 5.25 and −0.75; k³ + k = 17 lies between 2 and 3.
    const value = (name: string) => side!.find((each) => each.name === name)!.value!;
    expect([value("x"), value("y"), value("u")]).toEqual([5.25, -0.75, 7]);
    expect(value("k") ** 3 + value("k")).toBeCloseTo(17, 12);
    expect(value("h")).toBeNaN();
  });

  test("moves with the same givens by as much, and comes to the same under a claim", () => {
    const [side, whole] = solvedBoth(as).map((solved) => {
      const { solution } = solved;
      const quantity = quantityIn(solved);
      const slopes = [...sensitivities(solution, quantity)].map(([at, slope]) => [
        solved.keys[at]?.name ?? `missed by ${solution.system.variables[at]!.name}`,
        slope.toPrecision(12),
      ]);
      const claims = [22, 25, 30].map((limit): unknown => {
        const condition: Condition = compare(quantity.expression, "<", limit);
        const { variables } = quantity;
        const { nominal, worst, margin } = verdictOf(solution, { condition, variables });
        return [nominal, worst, margin];
      });
      return { slopes: slopes.sort(), claims };
    });
    expect(side).toEqual(whole);
    expect(side!.slopes.length).toBe(as === "solution" ? 4 : 6);
  });

  test("what leads to no figure asked for is left out, each equation taken once", () => {
    const [side] = solvedBoth(as);
    const { length } = side!.solution.system.equations;
    const names = Array.from({ length }, (_, at) => side!.equationAt(at)?.name);
    expect(names.sort()).toEqual(["apart", "bent", "double", "scaled", "sum"]);
    const figures = side!.keys.flatMap((each) => each?.name ?? []);
    expect(figures.sort()).toEqual(["a", "alone", "b", "d", "f", "g", "h", "k", "u", "x", "y"]);
    expect(side!.keys.length - figures.length).toBe(as === "solution" ? 0 : 2);
    expect(side!.placeOf(key("idle"))).toBeUndefined();
    expect(side!.solution.values.length).toBe(side!.keys.length);
  });
});
