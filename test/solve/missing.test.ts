/** What would settle an open figure, by giving it and solving again. */
import { describe, expect, test } from "vitest";
import { missingFor } from "../../server/solve";
import { solve } from "../../server/solve/solve";
import { withGivens } from "../../server/solve/with-givens";
import {
  add,
  call,
  compare,
  div,
  exactly,
  mul,
  of,
  pow,
  SystemBuilder,
  sub,
  type Term,
} from "./build";
import { randoms } from "./random-systems";

/** The sets that would settle a figure, by name, in the order in which they are told. */
function setsFor(builder: SystemBuilder, name: string): string[] {
  const solution = solve(builder.system());
  return missingFor(solution, builder.index(name)).map((set) =>
    set.map((variable) => solution.system.variables[variable]!.name).join(" "),
  );
}

const asked = (builder: SystemBuilder, ...names: string[]): SystemBuilder => {
  for (const name of names) builder.variable(name, { askedFirst: true });
  return builder;
};

describe("what is missing", () => {
  test("each set named settles the figure, and no part of it does", () => {
    const random = randoms(63);
    let sets = 0;
    for (let i = 0; i < 25; i++) {
      const builder = new SystemBuilder();
      for (let v = 0; v < 9; v++) builder.variable(`x${v}`);
      for (let e = 0; e < 5; e++) {
        const used = [0, 1, 2, 3, 4, 5, 6, 7, 8].filter(() => random() < 0.35).slice(0, 3);
        if (used.length < 2) continue;
        const terms = used.map((v) => mul(1 + Math.floor(random() * 4), `x${v}`));
        builder.equation(`e${e}`, add(...terms), Math.floor(random() * 9));
      }
      const system = builder.system();
      const solution = solve(system);
      for (const variable of [0, 1, 2]) {
        if (solution.determinations[variable]?.how !== "open") continue;
        for (const set of missingFor(solution, variable)) {
          sets++;
          const settled = (own: readonly number[]): boolean => {
            const given = new Map(own.map((each) => [each, exactly(0.37 + each)] as const));
            const { how } = solve(withGivens(system, given)).determinations[variable]!;
            return how === "solved";
          };
          expect(settled(set)).toBe(true);
          for (const each of set)
            expect(settled(set.filter((other) => other !== each))).toBe(false);
        }
      }
    }
    expect(sets).toBeGreaterThan(20);
  });
});

describe("the sets that are told, by hand", () => {
  // An overall width of two halves, one of them by way of two others.
  const width = (): SystemBuilder =>
    new SystemBuilder()
      .equation("overall", "w", add("a", "b"))
      .equation("half", "b", mul(2, "c"))
      .equation("quarter", "c", add("d", 1));

  test("all pairs of a sum, the near ones first", () => {
    expect(setsFor(width(), "w")).toEqual(["a b", "a c", "a d"]);
    expect(setsFor(width(), "b")).toEqual(["c", "d"]);
    expect(setsFor(width(), "a")).toEqual(["b w", "w c", "w d"]);
  });

  test("what builders measure goes before, within a set and between sets", () => {
    expect(setsFor(asked(width(), "d"), "w")).toEqual(["d a", "a b", "a c"]);
    expect(setsFor(asked(width(), "d"), "b")).toEqual(["d", "c"]);
    // Both can be measured: nothing else is told.
    expect(setsFor(asked(width(), "a", "d"), "w")).toEqual(["a d"]);
    expect(setsFor(asked(width(), "w", "a"), "b")).toEqual(["a w", "c", "d"]);
  });

  test("a figure nobody measures is told behind two that are, and before five", () => {
    const rod = (parts: readonly string[]): SystemBuilder =>
      asked(
        new SystemBuilder().equation("as", "y", "x").equation("sum", "x", add(0, ...parts)),
        ...parts,
      );
    expect(setsFor(rod(["a", "b"]), "y")).toEqual(["a b", "x"]);
    expect(setsFor(rod(["a", "b", "c", "d"]), "y")).toEqual(["x", "a b c d"]);
    expect(setsFor(rod(["a", "b", "c", "d", "e"]), "y")).toEqual(["x", "a b c d e"]);
  });

  test("five are told, six are too many to be advice", () => {
    const sum = (...parts: string[]): string[] =>
      setsFor(new SystemBuilder().equation("sum", "y", add(0, ...parts)), "y");
    expect(sum("a", "b", "c", "d", "e")).toEqual(["a b c d e"]);
    expect(sum("a", "b", "c", "d", "e", "f")).toEqual([]);
  });

  test("no more than six, those first by name", () => {
    const builder = new SystemBuilder();
    for (const at of [9, 3, 7, 1, 5, 8, 2, 6, 4])
      builder.equation(`e${at}`, "y", add(`x${at}`, at));
    expect(setsFor(builder, "y")).toEqual(["x1", "x2", "x3", "x4", "x5", "x6"]);
  });

  test("what was measured first and turned out not to be needed is left out", () => {
    // c stands beside y; a and b alone lead to it.
    const builder = new SystemBuilder()
      .equation("sum", "y", add("p", "q"))
      .equation("apart", sub("y", "c"), "r")
      .equation("one", "p", mul(2, "a"))
      .equation("other", "q", mul(3, "b"));
    expect(setsFor(asked(builder, "a", "b", "c"), "y")).toEqual(["a b"]);
  });

  test("of a figure that is known nothing is missing, nor of one without an answer", () => {
    const builder = new SystemBuilder()
      .given({ a: 1 })
      .equation("next", "b", add("a", 1))
      .equation("none", pow("z", 2), -1);
    for (const name of ["a", "b", "z"]) expect(setsFor(builder, name), name).toEqual([]);
  });

  test("nothing is concluded by way of what has no answer", () => {
    const builder = new SystemBuilder()
      .equation("none", pow("z", 2), -1)
      .equation("sum", "y", add("a", "b"))
      .equation("by z", "y", add("z", "c"));
    expect(setsFor(builder, "y")).toEqual(["a b"]);
  });

  test("what is given takes no part", () => {
    const builder = new SystemBuilder()
      .given({ g: 3, h: 5 })
      .equation("sum", add("y", "h"), add("a", mul("g", "b")))
      .equation("as", "c", add("b", "h"));
    expect(setsFor(builder, "y")).toEqual(["a b", "a c"]);
  });

  test("a figure that stands in nothing cannot be settled by another", () => {
    const builder = new SystemBuilder().variable("lone").equation("sum", "y", add("a", "b"));
    expect(setsFor(builder, "lone")).toEqual([]);
  });

  // Three equations of which each follows from both others: one figure settles all, and the structure
  // alone would say that nothing is open. Each has values in its ranges only.
  const together = (
    left: Term,
    right: Term,
    again: readonly [Term, Term],
    range?: readonly [number, number],
    scale = 1,
  ) => {
    const builder = new SystemBuilder().variable("x", {
      scale,
      ...(range === undefined ? {} : { range }),
    });
    return setsFor(
      builder
        .equation("one", "u", left)
        .equation("other", "v", right)
        .equation("same", again[0], again[1]),
      "x",
    );
  };

  test("figures that say the same thing thrice", () => {
    const below = together(
      call("sqrt", sub(45, "x")),
      sub(45, "x"),
      [pow("u", 2), "v"],
      [0, 45],
      1000,
    );
    const above = together(
      call("sqrt", sub("x", 40)),
      sub("x", 40),
      [pow("u", 2), "v"],
      [40, Number.POSITIVE_INFINITY],
    );
    const anywhere = together(call("log", "x"), "x", [call("exp", "u"), "v"]);
    for (const sets of [below, above, anywhere]) expect(sets).toEqual(["u", "v"]);
  });

  test("by way of a level stretch and of a list", () => {
    const list = (key: Term, method: "step" | "linear" | "exact") => ({
      op: "lookup" as const,
      curve: { name: "sizes", method, keys: [1, 2, 3], values: [10, 10, 30] },
      of: of(key),
    });
    const by = (term: Term): string[] =>
      setsFor(new SystemBuilder().equation("by", "y", add(term, "b")), "y");
    for (const term of [
      list("a", "step"),
      list("a", "linear"),
      list("a", "exact"),
      call("round", "a"),
      call("max", "a", 1e9),
    ])
      expect(by(term)).toEqual(["a b"]);
  });

  test("a case that does not hold says nothing", () => {
    const builder = new SystemBuilder()
      .given({ n: 1 })
      .equation("sum", "y", add("a", "b"))
      .equation("else", "y", "c", "relation", compare("n", ">", 2));
    expect(setsFor(builder, "y")).toEqual(["a b"]);
  });

  test("where two stand in the same sum twice, the third is enough", () => {
    // 3y + 2c = 1 follows, whatever a and b are.
    const builder = new SystemBuilder()
      .equation("all", add(mul(3, "y"), "a", mul(3, "b"), mul(2, "c")), 7)
      .equation("both", add("a", mul(3, "b")), 6);
    expect(setsFor(builder, "y")).toEqual(["c"]);
  });

  test("a long row is looked along as far as its neighborhood", () => {
    const builder = new SystemBuilder();
    for (let i = 0; i < 200; i++)
      builder.equation(`e${String(i).padStart(3, "0")}`, `x${i}`, add(`x${i + 1}`, 1));
    asked(builder, "x3", "x150");
    expect(setsFor(builder, "x0")).toEqual(["x3", "x1", "x2", "x4", "x5", "x6"]);
    expect(setsFor(builder, "x152").slice(0, 2)).toEqual(["x150", "x151"]);
  });
});

describe("in random sums", () => {
  test("every single figure that settles one is told, by giving each; where none, every pair", () => {
    const random = randoms(29);
    const counts = { single: 0, pair: 0, none: 0 };
    for (let i = 0; i < 40; i++) {
      const builder = new SystemBuilder();
      for (let v = 0; v < 6; v++) builder.variable(`x${v}`);
      for (let e = 0; e < 3; e++) {
        const used = [0, 1, 2, 3, 4, 5].filter(() => random() < 0.45);
        const terms = used.map((v) => mul(1 + Math.floor(random() * 3), `x${v}`));
        if (used.length > 1) builder.equation(`e${e}`, add(...terms), Math.floor(random() * 9));
      }
      const system = builder.system();
      const solution = solve(system);
      if (solution.determinations[0]?.how !== "open") continue;
      const settled = (...own: readonly number[]): boolean => {
        const given = new Map(own.map((each) => [each, exactly(0.37 + each)] as const));
        return solve(withGivens(system, given)).determinations[0]!.how === "solved";
      };
      const others = [1, 2, 3, 4, 5].filter((v) => solution.determinations[v]?.how === "open");
      const singles = others.filter((v) => settled(v)).map((v) => [v]);
      const inOrder = (sets: readonly (readonly number[])[]) =>
        sets
          .map((set) => [...set].sort((a, b) => a - b))
          .sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]!);
      const found = inOrder(missingFor(solution, 0));
      expect(found.filter((set) => set.length === 1)).toEqual(singles);
      if (singles.length > 0) {
        counts.single++;
        continue;
      }
      const pairs = others.flatMap((one) =>
        others.filter((other) => other > one && settled(one, other)).map((other) => [one, other]),
      );
      for (const pair of found.filter((set) => set.length === 2))
        expect(pairs).toContainEqual(pair);
      // From each figure the pair with the first other that does is told.
      if (pairs.length === 0) counts.none++;
      else {
        counts.pair++;
        expect(found.filter((set) => set.length === 2).length).toBeGreaterThan(0);
      }
    }
    expect(Math.min(...Object.values(counts))).toBeGreaterThan(3);
  });
});

describe("two sums that say how one figure stands to another", () => {
  // s = r + a and 2 s = 2 r + b, so that b = 2 a whatever r is of x and y.
  const sums = (r: Term, scale: number, factor: number): SystemBuilder => {
    const builder = new SystemBuilder();
    for (const name of ["x", "y", "s", "a", "b"]) builder.variable(name, { scale });
    return builder
      .equation("once", mul(factor, "s"), mul(factor, add(r, "a")))
      .equation("twice", mul(2, "s"), add(mul(2, r), "b"));
  };
  const roots: readonly (readonly [name: string, r: Term])[] = [
    ["a product", mul("x", "y")],
    ["a quotient", div("x", "y")],
    ["a root", call("sqrt", add(pow("x", 2), pow("y", 2)))],
    ["what cancels", add(sub("x", "x"), "y")],
  ];
  test.each(roots)("%s", (_, r) => {
    for (const [scale, factor] of [
      [1, 1],
      [1e-3, 1],
      [25, 1e-12],
      [1, 1e9],
    ] as const) {
      const builder = sums(r, scale, factor);
      expect(setsFor(builder, "a")).toContain("b");
      expect(setsFor(builder, "b")).toContain("a");
      expect(setsFor(builder, "a")).not.toContain("s");
      expect(setsFor(builder, "a")).not.toContain("x");
    }
  });
});
