/** Wishes that mirror each other and cannot all hold miss by equal amounts: by hand. */
import { describe, expect, test } from "vitest";
import { draw, isEvened, wishesThatMirror, withWishesGiven } from "../../server/solve/draw";
import { spreadOf } from "../../server/solve/spread";
import type { System } from "../../server/solve/system";
import { add, determinationNamed, mul, SystemBuilder, sub, valueNamed, within } from "./build";

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

describe("which wishes mirror each other", () => {
  const built = () => {
    const builder = new SystemBuilder().variable("left").variable("right").variable("plain");
    return builder.variable("upper").variable("lower");
  };
  const twinned = (builder: SystemBuilder): System => {
    const twins: Readonly<Record<string, string>> = {
      left: "side",
      right: "side",
      upper: "height",
      lower: "height",
    };
    const { variables, equations } = builder.system();
    return {
      equations,
      variables: variables.map((each) => {
        const twin = twins[each.name];
        return twin === undefined ? each : { ...each, twin };
      }),
    };
  };
  const groups = (builder: SystemBuilder) => {
    const { equations } = twinned(builder);
    return wishesThatMirror(twinned(builder)).map((group) =>
      group.map((at) => equations[at]!.name),
    );
  };

  test("those about figures of one name each, whatever they wish for", () => {
    const builder = built()
      .equation("z", "left", 6, "wanted")
      .equation("y", "right", 7, "wanted")
      .equation("c", "lower", 1, "wanted")
      .equation("d", "upper", 2, "wanted")
      .equation("alone", "plain", 3, "wanted")
      .equation("alone, too", "plain", 4, "wanted")
      .equation("assumed", "left", 5, "assumed");
    expect(groups(builder)).toEqual([
      ["c", "d"],
      ["y", "z"],
    ]);
  });

  test("of several figures those of one form, with the same figures beside", () => {
    const form = (name: string) => sub(name, mul(2, "plain"));
    const builder = built()
      .equation("a", form("left"), 0, "wanted")
      .equation("b", form("right"), 0, "wanted")
      .equation("c", add("left", "plain"), 4, "wanted");
    const { variables, equations } = twinned(builder);
    // A kind's equations share their form.
    const alike = equations.map((each, at) =>
      at === 1 ? { ...each, form: equations[0]!.form } : each,
    );
    expect(wishesThatMirror({ variables, equations: alike })).toEqual([[0, 1]]);
    expect(wishesThatMirror({ variables, equations })).toEqual([]);
    const apart = alike.map((each, at) =>
      at === 1 ? { ...each, variables: [each.variables[0]!, builder.index("upper")] } : each,
    );
    expect(wishesThatMirror({ variables, equations: apart })).toEqual([]);
  });

  test("several pairs that clash are evened out one after another", () => {
    const builder = built()
      .equation("across", add("left", "right"), 10)
      .equation("along", add("upper", "lower"), 20)
      .equation("l", "left", 8, "wanted")
      .equation("r", "right", 4, "wanted")
      .equation("u", "upper", 16, "wanted")
      .equation("o", "lower", 8, "wanted")
      .equation("p", "plain", 3, "wanted");
    const drawn = draw(twinned(builder));
    const [left, right, upper, lower, plain] = ["left", "right", "upper", "lower", "plain"].map(
      (name) => valueNamed(drawn, name),
    );
    for (const [value, wanted] of [
      [left, 7],
      [right, 3],
      [upper, 14],
      [lower, 6],
      [plain, 3],
    ] as const)
      expect(value).toBeCloseTo(wanted, 9);
  });
});

describe("wishes taken for givens", () => {
  const wish = within(6, 0.5);
  const taken = (builder: SystemBuilder, ...names: string[]) => {
    const { variables, equations } = builder.system();
    const wished = variables.map((each) => (names.includes(each.name) ? { ...each, wish } : each));
    const drawn = draw({ variables: wished, equations });
    return { drawn, given: withWishesGiven(drawn), builder };
  };

  test("bear their tolerance on to what follows from them", () => {
    const { drawn, given, builder } = taken(
      sum(10).equation("left wish", "left", 6, "wanted").equation("z", "right", 6, "wanted"),
      "left",
      "right",
    );
    expect([valueNamed(given, "left"), valueNamed(given, "right")]).toEqual([6, 4]);
    expect(determinationNamed(given, "left").how).toBe("given");
    expect(determinationNamed(given, "right").how).toBe("solved");
    const right = builder.quantity("right");
    expect(spreadOf(drawn, right)!.worstAbove).toBe(0);
    expect(spreadOf(given, right)!.worstAbove).toBeCloseTo(0.5, 9);
  });

  test("are only those of one figure that are wished for", () => {
    const two = taken(sum(10).equation("like", "left", mul(2, "right"), "wanted"), "left", "right");
    expect(two.given).toBe(two.drawn);
    const assumed = taken(sum(10).equation("usual", "left", 6, "assumed"), "left");
    expect(assumed.given).toBe(assumed.drawn);
    const none = taken(sum(10).equation("left wish", "left", 6, "wanted"));
    expect(none.given).toBe(none.drawn);
  });
});
