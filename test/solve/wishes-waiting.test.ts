/**
 * Which figure would be made to answer a wish once what is still open is known: by hand, over a mark on a
 * tube from its end, with a gap that is wished for.
 */
import { describe, expect, test } from "vitest";
import { answerOnceKnown, draw, wishOf } from "../../server/solve";
import type { System } from "../../server/solve/system";
import { add, compare, div, SystemBuilder, sub } from "./build";

/** Some figures are made, in an order. */
function made(builder: SystemBuilder, ...names: readonly string[]): System {
  const { variables, equations } = builder.system();
  return {
    equations,
    variables: variables.map((each) => {
      const order = names.indexOf(each.name);
      if (order < 0) return each;
      return { ...each, role: "made", making: { off: 0, offShare: 0, said: true, order } };
    }),
  };
}

/** What is told of the wish for `gap`, by name. */
function told(builder: SystemBuilder, ...names: readonly string[]) {
  const drawn = draw(made(builder, ...names));
  const found = answerOnceKnown(drawn, builder.index("gap"));
  if (found === undefined) return undefined;
  const nameOf = (at: number): string => drawn.system.variables[at]!.name;
  return { made: nameOf(found.made), open: found.open.map(nameOf).sort() };
}

const wished = (): SystemBuilder => new SystemBuilder().equation("gap wish", "gap", 180, "wanted");
const marked = (): SystemBuilder => wished().equation("mark", "mark", add("end", "gap"));

describe("a wish", () => {
  test("is one figure's alone, and no more than wanted", () => {
    const builder = new SystemBuilder()
      .equation("a is", "a", 5)
      .equation("b may be", "b", 5, "default")
      .equation("c and d", add("c", "d"), 5, "wanted")
      .equation("d wish", "d", 3, "wanted")
      .equation("e wish", "e", 4, "wanted");
    const drawn = draw(builder.system());
    const places = ["a", "b", "c", "d", "e"].map((name) => wishOf(drawn, builder.index(name)));
    expect(places).toEqual([undefined, undefined, undefined, 3, 4]);
  });
});

describe("the figure that answers it", () => {
  test("is what is made in the same equation, with what is open beside it", () => {
    expect(told(marked(), "mark")).toEqual({ made: "mark", open: ["end"] });
    const two = wished().equation("mark", "mark", add("end", "gap", "plate"));
    expect(told(two, "mark")).toEqual({ made: "mark", open: ["end", "plate"] });
  });

  test("may stand in what follows from the wish", () => {
    const half = wished()
      .equation("half", "half", div("gap", 2))
      .equation("mark", "mark", sub("end", "half"));
    expect(told(half, "mark")).toEqual({ made: "mark", open: ["end"] });
  });

  test("is none without a wish, or where nothing in the equation hangs on it", () => {
    expect(told(new SystemBuilder().equation("mark", "mark", add("end", "gap")), "mark")).toBe(
      undefined,
    );
    const apart = wished().given({ width: 40 }).equation("mark", "mark", add("end", "width"));
    expect(told(apart, "mark")).toBe(undefined);
  });

  test("is none where nothing is made, where two are, or where it is known", () => {
    expect(told(marked())).toBe(undefined);
    expect(told(marked(), "mark", "end")).toBe(undefined);
    expect(told(marked().given({ end: 20 }), "mark")).toBe(undefined);
    expect(told(marked(), "gap")).toBe(undefined);
  });

  test("is none by what holds in a case, or is no relation", () => {
    const cased = wished()
      .given({ kind: 1 })
      .equation("mark", "mark", add("end", "gap"), "relation", compare("kind", ">", 0));
    expect(told(cased, "mark")).toBe(undefined);
    const assumed = wished().equation("mark", "mark", add("end", "gap"), "default");
    expect(told(assumed, "mark")).toBe(undefined);
  });

  test("of several: that with the fewest open beside it, then the first made, then by name", () => {
    const both = (one: string, other: string) =>
      wished()
        .equation("one", one, add("end", "gap"))
        .equation("other", other, add("plate", "post", "gap"));
    expect(told(both("b", "a"), "a", "b")).toEqual({ made: "b", open: ["end"] });
    expect(told(both("a", "b"), "b", "a")).toEqual({ made: "a", open: ["end"] });
    const alike = (one: string, other: string) =>
      wished().equation("one", one, add("end", "gap")).equation("other", other, add("post", "gap"));
    expect(told(alike("a", "b"), "a", "b")).toEqual({ made: "a", open: ["end"] });
    expect(told(alike("a", "b"), "b", "a")).toEqual({ made: "b", open: ["post"] });
    // In no order of their own: by name, in whichever equation.
    for (const [one, other] of [
      ["a", "b"],
      ["b", "a"],
    ] as const) {
      const builder = alike(one, other);
      const system = made(builder, one, other);
      const drawn = draw({
        ...system,
        variables: system.variables.map((each) =>
          each.role === "made" ? { ...each, making: { ...each.making!, order: 0 } } : each,
        ),
      });
      const found = answerOnceKnown(drawn, builder.index("gap"));
      expect(found?.made).toBe(builder.index("a"));
    }
  });
});
