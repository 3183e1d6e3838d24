/**
 * Rounding of the inputs decides nothing: exact decimals, worked out in whole thousandths of an inch,
 * against the same figures in meters.
 */
import { describe, expect, test } from "vitest";
import { solve } from "../../server/solve/solve";
import { verdictOf } from "../../server/solve/verdict";
import {
  add,
  call,
  compare,
  determinationNamed,
  div,
  mul,
  restsOnNames,
  SystemBuilder,
  sub,
  valueNamed,
} from "./build";
import { randoms } from "./random-systems";

const INCH = 0.0254;

describe("exact decimals", () => {
  test("2,000 differences that come to nothing, and as many a millionth short", () => {
    const random = randoms(3);
    for (let round = 0; round < 2000; round++) {
      const thousandths = [0, 1, 2].map(() => Math.floor(random() * 60_000));
      const whole = thousandths.reduce((sum, each) => sum + each, 0);
      const [b, c, d] = thousandths.map((each) => (each / 1000) * INCH);
      const builder = new SystemBuilder().given({
        a: (whole / 1000) * INCH,
        b: b!,
        c: c!,
        d: d!,
        short: (whole / 1000 - 1e-6) * INCH,
      });
      builder.equation("rest", "rest", sub("a", "b", "c"));
      const solution = solve(builder.system());
      const judged = (condition: Parameters<SystemBuilder["claim"]>[0]) =>
        verdictOf(solution, builder.claim(condition)).nominal;
      expect(judged(compare(sub("a", "b", "c", "d"), ">=", 0))).toBe("holds");
      expect(judged(compare(sub("rest", "d"), ">=", 0))).toBe("holds");
      expect(judged(compare(sub("rest", "d"), ">", 0))).toBe("fails");
      expect(judged(compare("a", "==", add("d", "c", "b")))).toBe("holds");
      expect(judged(compare(sub("short", "b", "c", "d"), ">=", 0))).toBe("fails");
    }
  });

  test("a branch, a step and a table forgive what was lost on the way to them", () => {
    const builder = new SystemBuilder().given({ a: 0.3, b: 0.1, c: 0.2 });
    builder.equation("rest", "rest", sub("a", "b", "c"));
    const zero = compare("rest", ">=", 0);
    builder.equation("side", "side", {
      op: "if",
      condition: zero,
      then: { op: "number", value: 1 },
      else: { op: "number", value: 2 },
    });
    builder.equation("pieces", "pieces", call("floor", div(add("rest", mul(3, 0.1)), 0.1)));
    builder.equation("none", "none", call("ceil", div("rest", 0.1)));
    const solution = solve(builder.system());
    expect(valueNamed(solution, "rest")).not.toBe(0);
    expect(valueNamed(solution, "side")).toBe(1);
    expect(valueNamed(solution, "pieces")).toBe(3);
    expect(valueNamed(solution, "none")).toBe(0);
  });
});

describe("what rests on an assumption", () => {
  const resting = (term: Parameters<SystemBuilder["equation"]>[2]): string[] => {
    const builder = new SystemBuilder().given({ nothing: 0 });
    builder.equation("b is 5", "b", 5, "default");
    builder.equation("y", "y", term);
    const solution = solve(builder.system());
    expect(determinationNamed(solution, "y").how).toBe("solved");
    return restsOnNames(solution, "y");
  };

  test("is what could move with it, level or not", () => {
    expect(resting(call("max", "b", 10))).toEqual(["b is 5"]);
    expect(resting(call("round", "b", 1))).toEqual(["b is 5"]);
    expect(resting(mul(sub("b", 5), sub("b", 5)))).toEqual(["b is 5"]);
  });

  test("and not what cancels out, or is taken times nothing", () => {
    expect(resting(sub(add("b", 3), "b"))).toEqual([]);
    expect(resting(mul("nothing", "b"))).toEqual([]);
  });
});

test("what rounding explains grows with the numbers, and shrinks with them", () => {
  // 0.1 + 0.2 is not 0.3 to the last bit, whatever it is counted in.
  for (const scale of [1e-9, 1, 1e9]) {
    const builder = new SystemBuilder()
      .given({ a: 0.1, b: 0.2 })
      .equation("x", "x", mul(add("a", "b"), scale));
    const holds = (right: number) =>
      verdictOf(solve(builder.system()), builder.claim(compare("x", "==", right))).nominal;
    expect(0.3 * scale === (0.1 + 0.2) * scale).toBe(false);
    expect(holds(0.3 * scale)).toBe("holds");
    expect(holds(0.3 * scale * (1 + 1e-9))).toBe("fails");
  }
});

describe("rounding noise, against exact tenths", () => {
  test("sums, products by whole numbers and floors of exact decimals", () => {
    const random = randoms(99);
    let told = 0;
    for (let i = 0; i < 400; i++) {
      const [a, b, c] = [1, 2, 3].map(() => Math.floor(random() * 2000)) as [
        number,
        number,
        number,
      ];
      const whole = 1 + Math.floor(random() * 9);
      // In tenths: exact.
      const margin = a * whole - b - c;
      const builder = new SystemBuilder().given({ a: a / 10, b: b / 10, c: (c + margin) / 10 });
      const claims: readonly [Parameters<SystemBuilder["claim"]>[0], boolean][] = [
        [compare(sub(sub(mul("a", whole), "b"), "c"), ">=", 0), true],
        [compare(sub(sub(mul("a", whole), "b"), "c"), "<=", 0), true],
        [compare(sub(sub(mul("a", whole), "b"), "c"), ">", 0), false],
        [compare(call("floor", div("a", 0.1)), "==", a), true],
        [compare(mul("a", whole), ">=", add("b", "c", 0.1)), false],
      ];
      const solution = solve(builder.system());
      for (const [condition, expected] of claims) {
        const verdict = verdictOf(solution, builder.claim(condition)).nominal;
        expect(verdict, `${a} ${b} ${c} ${whole}`).toBe(expected ? "holds" : "fails");
        told++;
      }
    }
    expect(told).toBe(2000);
  });
});
