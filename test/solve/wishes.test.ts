/** Wishes that mirror each other and cannot all hold miss by equal amounts: by hand. */
import { describe, expect, test } from "vitest";
import { draw, isEvened, wishesThatMirror } from "../../server/solve/draw";
import type { System } from "../../server/solve/system";
import { add, mul, SystemBuilder, valueNamed } from "./build";

/** The figures that are called alike but for their side mirror each other. */
function mirrored(builder: SystemBuilder, ...names: string[]): System {
  const { variables, equations } = builder.system();
  return {
    equations,
    variables: variables.map((variable) =>
      names.includes(variable.name) ? { ...variable, twin: "side" } : variable,
    ),
  };
}

const sum = (total: number) => new SystemBuilder().equation("sum", add("left", "right"), total);

describe("two sides that share what there is", () => {
  test("miss alike where both cannot have what they want", () => {
    const builder = sum(10)
      .equation("left wish", "left", 6, "wanted")
      .equation("right wish", "right", 6, "wanted");
    const drawn = draw(mirrored(builder, "left", "right"));
    expect(valueNamed(drawn, "left")).toBeCloseTo(5, 9);
    expect(valueNamed(drawn, "right")).toBeCloseTo(5, 9);
    // Beside what was written stands that they miss alike.
    expect([0, 1, 2].some((equation) => isEvened(drawn, equation))).toBe(false);
    expect(isEvened(drawn, 3)).toBe(true);
  });

  test("wishes of different sizes miss by the same amount", () => {
    const builder = sum(10)
      .equation("left wish", "left", 8, "wanted")
      .equation("right wish", "right", 4, "wanted");
    const drawn = draw(mirrored(builder, "left", "right"));
    expect(valueNamed(drawn, "left")).toBeCloseTo(7, 9);
    expect(valueNamed(drawn, "right")).toBeCloseTo(3, 9);
  });

  test("have what they want where there is enough", () => {
    const builder = sum(12)
      .equation("left wish", "left", 6, "wanted")
      .equation("right wish", "right", 6, "wanted");
    const drawn = draw(mirrored(builder, "left", "right"));
    expect(valueNamed(drawn, "left")).toBeCloseTo(6, 12);
    expect(valueNamed(drawn, "right")).toBeCloseTo(6, 12);
    expect(isEvened(drawn, 3)).toBe(false);
  });

  test("that do not mirror each other are served by name", () => {
    const builder = sum(10)
      .equation("a wish", "left", 6, "wanted")
      .equation("b wish", "right", 6, "wanted");
    const drawn = draw(builder.system());
    expect(valueNamed(drawn, "left")).toBeCloseTo(6, 12);
    expect(valueNamed(drawn, "right")).toBeCloseTo(4, 12);
    expect(wishesThatMirror(builder.system())).toEqual([]);
  });

  test("a wish alone in its group, or none at all, evens out nothing", () => {
    const one = sum(10).equation("left wish", "left", 6, "wanted");
    expect(valueNamed(draw(mirrored(one, "left")), "right")).toBeCloseTo(4, 12);
    const none = sum(10).equation("firm", "left", mul(2, 3));
    expect(valueNamed(draw(mirrored(none, "left", "right")), "right")).toBeCloseTo(4, 12);
  });

  test("are grouped in the order of their names", () => {
    const builder = sum(10)
      .equation("z", "right", 6, "wanted")
      .equation("a", "left", 6, "wanted")
      .equation("firm", "left", 6);
    expect(wishesThatMirror(mirrored(builder, "left", "right"))).toEqual([[2, 1]]);
  });
});
