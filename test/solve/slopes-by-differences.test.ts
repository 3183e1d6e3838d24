/**
 * Slopes of every operation there is, against what its value does between two places close by; and sides
 * of conditions, against every truth their parts can have.
 */
import { describe, expect, test } from "vitest";
import { differentiate } from "../../server/solve/differentiate";
import { evaluate } from "../../server/solve/evaluate";
import {
  type Condition,
  choice,
  type Expression,
  type FunctionName,
} from "../../server/solve/expression";
import { isMixed, sidesOf } from "../../server/solve/sides";
import { compile } from "../../server/solve/tape";
import { compare } from "./build";
import { call, number, x, y } from "./told-ranges";

type Place = readonly [number, number];
const binary = (op: "add" | "subtract" | "multiply" | "divide" | "power"): Expression => ({
  op,
  left: x,
  right: y,
});
const over: readonly Place[] = [
  [0.3, 0.7],
  [0.7, 0.3],
  [0.45, -0.6],
  [-0.2, 0.35],
  [-0.55, -0.15],
];
const above: readonly Place[] = over.map(([a, b]) => [Math.abs(a), b]);
const one = (name: FunctionName, places = over): [string, Expression, readonly Place[]] => [
  name,
  call(name, x),
  places,
];
const linear = {
  name: "table",
  method: "linear",
  keys: [-1, 0, 0.5, 1],
  values: [3, 1, 4, -2],
} as const;

describe("slopes", () => {
  test.each<[string, Expression, readonly Place[]]>([
    ["sum", binary("add"), over],
    ["difference", binary("subtract"), over],
    ["product", binary("multiply"), over],
    ["quotient", binary("divide"), over],
    ["power", binary("power"), above],
    ["square", { op: "power", left: x, right: number(2) }, over],
    ["cube", { op: "power", left: x, right: number(3) }, over],
    ["reciprocal square", { op: "power", left: x, right: number(-2) }, over],
    ["constant power", { op: "power", left: x, right: number(0) }, over],
    ["power of two", { op: "power", left: number(2), right: y }, over],
    ["opposite", { op: "negate", of: x }, over],
    one("abs"),
    one("sqrt", above),
    one("exp"),
    one("log", above),
    one("sin"),
    one("cos"),
    one("tan"),
    one("asin"),
    one("acos"),
    one("atan"),
    ["angle", call("atan2", x, y), over],
    ["least", call("min", x, y), over],
    ["greatest", call("max", x, y), over],
    ["steps", call("round", x, number(0.25)), over],
    ["steps down", call("floor", x, number(0.25)), over],
    ["steps up", call("ceil", x, number(0.25)), over],
    [
      "either",
      choice(
        { op: "compare", relation: ">", left: x, right: y },
        binary("multiply"),
        binary("add"),
      ),
      over,
    ],
    ["table", { op: "lookup", curve: linear, of: x }, over],
    ["table in steps", { op: "lookup", curve: { ...linear, method: "step" }, of: x }, over],
    ["square of itself", { op: "multiply", left: x, right: x }, over],
  ])("of a %s", (_, expression, places) => {
    for (const outer of [
      (part: Expression) => part,
      (part: Expression): Expression => ({ op: "multiply", left: number(-3), right: part }),
      (part: Expression): Expression => ({ op: "subtract", left: y, right: part }),
    ]) {
      const whole = outer(expression);
      const tape = compile([whole]);
      for (const place of places) {
        const values = Float64Array.from(place);
        evaluate(tape, values, [0, 1]);
        differentiate(tape, [1]);
        const found = [0, 1].map((slot) => {
          const at = tape.slotIndices.indexOf(slot);
          return at < 0 ? 0 : tape.adjoint[tape.slotPositions[at]!]!;
        });
        for (const slot of [0, 1]) {
          const h = 1e-6;
          const beside = (by: number): number => {
            const moved = values.slice();
            moved[slot]! += by;
            return evaluate(compile([whole]), moved, [0, 1]);
          };
          const wanted = (beside(h) - beside(-h)) / (2 * h);
          expect(Math.abs(found[slot]! - wanted), `${place} ${slot}`).toBeLessThan(
            1e-6 * (1 + Math.abs(wanted)),
          );
        }
      }
    }
  });
});

describe("sides of conditions", () => {
  const leaves = [compare("a", ">", 0), compare("b", "<=", 0), compare("c", "<", 0)];
  const not = (of: Condition): Condition => ({ op: "not", of });
  const join = (op: "and" | "or", left: Condition, right: Condition): Condition => ({
    op,
    left,
    right,
  });
  const [a, b, c] = leaves as [Condition, Condition, Condition];
  const ops = ["and", "or"] as const;
  /** All ways to join three with a `not` here and there. */
  const all = ops.flatMap((inner) =>
    ops.flatMap((outer) =>
      Array.from({ length: 32 }, (_, bits) => {
        const may = (bit: number, each: Condition) => ((bits >> bit) & 1 ? not(each) : each);
        const pair = may(3, join(inner, may(0, a), may(1, b)));
        const [left, right] = bits & 1 ? [pair, may(2, c)] : [may(2, c), pair];
        return may(4, join(outer, left, right));
      }),
    ),
  );
  const holds = (condition: Condition, truths: readonly boolean[]): boolean => {
    switch (condition.op) {
      case "not":
        return !holds(condition.of, truths);
      case "and":
        return holds(condition.left, truths) && holds(condition.right, truths);
      case "or":
        return holds(condition.left, truths) || holds(condition.right, truths);
      default:
        return truths[leaves.indexOf(condition)]!;
    }
  };
  const joinsOf = (condition: Condition): string | undefined => {
    const turned = { and: "or", or: "and" } as const;
    if (condition.op === "not") {
      const of = joinsOf(condition.of);
      return of === undefined ? undefined : turned[of as "and" | "or"];
    }
    return condition.op === "and" || condition.op === "or" ? condition.op : undefined;
  };

  test("say together what the condition says, and none can be taken apart in the same way", () => {
    for (const condition of all) {
      const { is, sides } = sidesOf(condition);
      expect(is).toBe(joinsOf(condition));
      expect(sides.length).toBeGreaterThan(1);
      for (let bits = 0; bits < 8; bits++) {
        const truths = [0, 1, 2].map((bit) => ((bits >> bit) & 1) === 1);
        const each = sides.map((side) => holds(side, truths));
        expect(is === "and" ? each.every(Boolean) : each.some(Boolean)).toBe(
          holds(condition, truths),
        );
      }
      for (const side of sides) expect(joinsOf(side)).not.toBe(is);
      expect(sidesOf(condition)).toBe(sidesOf(condition));
    }
    expect(sidesOf(a)).toEqual({ is: "and", sides: [a] });
    expect(sidesOf(not(not(a)))).toEqual({ is: "and", sides: [a] });
  });

  test("are mixed where one holds at its limit and another does not, or holds there alone", () => {
    const relations = [">", ">=", "<", "<=", "==", "!="] as const;
    /** How a comparison fares below, at and above its limit, once its `not`s are done. */
    const fares = (relation: (typeof relations)[number], turned: boolean) =>
      [-1, 0, 1].map((at) => {
        const tape = compile([
          choice({ op: "compare", relation, left: x, right: number(0) }, number(1), number(0)),
        ]);
        return (evaluate(tape, Float64Array.of(at), [0]) === 1) !== turned;
      });
    for (const one of relations) {
      for (const other of relations) {
        for (const bits of [0, 1, 2, 3]) {
          const [left, right] = [compare("a", one, 0), compare("b", other, 0)];
          const may = (bit: number, each: Condition) => ((bits >> bit) & 1 ? not(each) : each);
          for (const op of ops) {
            const condition = join(op, may(0, left), may(1, right));
            const both = [fares(one, (bits & 1) === 1), fares(other, (bits & 2) === 2)];
            const alone = both.some(([below, at, above]) => at && !below && !above);
            const wanted = alone || both[0]![1] !== both[1]![1];
            expect(isMixed(condition), `${one} ${op} ${other} ${bits}`).toBe(wanted);
            expect(isMixed(not(condition)), `not ${one} ${op} ${other} ${bits}`).toBe(
              both.some(([below, at, above]) => !at && below && above) ||
                both[0]![1] !== both[1]![1],
            );
          }
          expect(isMixed(may(0, left))).toBe(false);
        }
      }
    }
  });
});
