/** One equation for one figure, asked of what solves it: straight lines, curves, what holds anywhere, lists. */
import { describe, expect, test } from "vitest";
import { factsOf } from "../../server/solve/form";
import { MOST_LISTED, solveSingle } from "../../server/solve/single";
import { add, call, div, mul, of, pow, SystemBuilder, sub, type Term } from "./build";

const everywhere = [-Infinity, Infinity] as const;

/** The answer for x of `left` = `right`; x itself is left as it was. */
function answered(
  left: Term,
  right: Term,
  [low, high]: readonly [number, number] = everywhere,
  scale = 1,
) {
  const builder = new SystemBuilder().variable("x").equation("e", left, right);
  const [equation] = builder.system().equations;
  const values = new Float64Array([0.25]);
  const { kind, value, roots, complete, outside, nearest } = solveSingle(
    {
      facts: factsOf(equation!.form),
      slots: equation!.variables,
      slot: 0,
      variable: 0,
      scale,
      low,
      high,
    },
    values,
  );
  expect([...values]).toEqual([0.25]);
  return { kind, value, roots: [...roots], complete, outside, nearest };
}

const close = (value: number) => expect.closeTo(value, 9);
const solved = (value: number) => ({ kind: "solved", value: close(value), roots: [close(value)] });

describe("a straight line", () => {
  const line = add(mul(2, "x"), "x");

  test("has its answer, in its range, at its ends", () => {
    for (const range of [everywhere, [3, 9], [-9, 3], [3, 3]] as const)
      expect(answered(line, 9, range)).toMatchObject({ ...solved(3), complete: true });
    expect(answered(line, 9, [4, 9])).toMatchObject({
      kind: "no-root",
      outside: close(3),
      roots: [],
    });
    expect(answered(line, 9, [-9, 2])).toMatchObject({ kind: "no-root", outside: close(3) });
    expect(answered(line, 9e9, everywhere, 1e9)).toMatchObject({ kind: "solved", value: 3e9 });
  });

  test("that says nothing of the figure holds whatever it is, or never", () => {
    const none = sub(add("x", "x"), mul(2, "x"));
    expect(answered(add(none, 1), 1)).toMatchObject({ kind: "vacuous", roots: [] });
    expect(answered(none, 1)).toMatchObject({ kind: "no-root", roots: [], outside: undefined });
    expect(answered(add(none, div(1, 0)), 1).kind).toBe("not-defined");
  });
});

describe("turned round", () => {
  test("a square has the root in range, both, or one that lies outside", () => {
    expect(answered(pow("x", 2), 4, [0, 9])).toMatchObject(solved(2));
    expect(answered(pow("x", 2), 4, [-9, 0])).toMatchObject(solved(-2));
    expect(answered(pow("x", 2), 4)).toMatchObject({
      kind: "several-roots",
      roots: [close(-2), close(2)],
      complete: true,
    });
    expect(answered(pow("x", 2), 4, [5, 9])).toMatchObject({ kind: "no-root", roots: [] });
    expect(Math.abs(answered(pow("x", 2), 4, [5, 9]).outside ?? 0)).toBeCloseTo(2, 9);
    expect(answered(pow("x", 2), 0)).toMatchObject(solved(0));
    expect(Object.is(answered(mul(-1, "x"), 0).value, 0)).toBe(true);
    expect(answered(pow("x", 2), -4).kind).not.toBe("solved");
  });

  test("a sine within a turn either way, or searched for beyond", () => {
    expect(answered(call("sin", "x"), 0.5, [0, 1])).toMatchObject(solved(Math.PI / 6));
    const turns = answered(call("sin", "x"), 0.5, [0, 20]);
    expect(turns.kind).toBe("several-roots");
    // 30° and 150°, three times round and once more.
    expect(turns.roots).toEqual(
      [0, 1, 2]
        .flatMap((turn) => [
          close(Math.PI / 6 + 2 * Math.PI * turn),
          close((5 * Math.PI) / 6 + 2 * Math.PI * turn),
        ])
        .concat([close(Math.PI / 6 + 6 * Math.PI)]),
    );
  });
});

describe("searched for", () => {
  test("the answers in range, and no others", () => {
    // x + sin x = 2: 1.10606 (by hand, Newton from 1).
    const wave = add("x", call("sin", "x"));
    const [answer] = [answered(wave, 2, [-10, 10])];
    expect(answer).toMatchObject({ kind: "solved", complete: true });
    expect(answer.value + Math.sin(answer.value)).toBeCloseTo(2, 12);
    expect(answered(wave, 2, [2, 10]).kind).toBe("no-root");
    const cube = sub(pow("x", 3), "x");
    expect(answered(cube, 0, [-5, 5])).toMatchObject({
      kind: "several-roots",
      roots: [close(-1), close(0), close(1)],
      complete: true,
    });
    expect(answered(cube, 0, [0.5, 3])).toMatchObject(solved(1));
    expect(answered(add(pow("x", 2), "x", 5), 0, [-50, 50])).toMatchObject({
      kind: "no-root",
      complete: true,
      outside: undefined,
    });
  });

  test("where it has no value, that is said, whichever ends its range has", () => {
    const root = add(call("sqrt", "x"), "x");
    for (const range of [
      [-9, -1],
      [-Infinity, -1],
    ] as const)
      expect(answered(root, 3, range).kind, String(range)).toBe("not-defined");
    const other = add(call("sqrt", sub(0, "x")), "x");
    expect(answered(other, 3, [1, Infinity]).kind).toBe("not-defined");
    expect(answered(add(call("sqrt", sub(-1, pow("x", 2))), "x"), 3).kind).toBe("not-defined");
  });

  test("what holds all over a stretch is none of it, or says nothing at all", () => {
    const least = add(call("max", "x", 2), mul(0, "x"));
    expect(answered(least, 2, [0, 1]).kind).toBe("vacuous");
    expect(answered(least, 2, [0, 10])).toMatchObject({ kind: "several-roots", complete: false });
    expect(answered(least, 5, [0, 10])).toMatchObject(solved(5));
    expect(answered(call("max", "x", 2), 2, [0, 1]).kind).toBe("vacuous");
    expect(answered(call("max", "x", 2), 2, [0, 10])).toMatchObject({
      kind: "several-roots",
      complete: false,
    });
  });
});

describe("a row of a list that nothing is", () => {
  // 10 for 1, 20 for 2 … 400 for 40.
  const keys = Array.from({ length: 40 }, (_, at) => at + 1);
  const curve = {
    name: "rows",
    method: "exact",
    keys,
    values: keys.map((key) => 10 * key),
  } as const;
  const row = (): Term => ({ op: "lookup", curve, of: of("x") });

  test("names those next to it, the nearer and then the smaller first, two dozen of them", () => {
    const found = answered(row(), 95, [1, 40]);
    expect(found.kind).toBe("no-root");
    // 9 and 10 miss by 5, 8 and 11 by 15 … 1 and 18 by 85, then 19, 20 ….
    const pairs = keys.slice(0, 9).flatMap((at) => [10 - at, 9 + at]);
    expect(found.nearest).toEqual([...pairs, 19, 20, 21, 22, 23, 24]);
    expect(found.nearest).toHaveLength(MOST_LISTED);
  });

  test("names only those in range, and none where one does", () => {
    expect(answered(row(), 95, [7, 12]).nearest).toEqual([9, 10, 8, 11, 7, 12]);
    expect(answered(row(), 90, [1, 40])).toMatchObject({ ...solved(9), nearest: undefined });
    expect(answered(row(), 90, [10, 40]).nearest?.slice(0, 2)).toEqual([10, 11]);
  });
});
