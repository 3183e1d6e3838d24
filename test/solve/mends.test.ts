/**
 * What is offered where a check fails as it comes out: every offer is put in, drawn and made anew, and
 * the nearest one is worked out by trying every step.
 */
import { describe, expect, test } from "vitest";
import { draw, failingLevel, mendsFor, outcomeOf, verdictOf } from "../../server/solve";
import type { Mend } from "../../server/solve/mend";
import type {
  Claim,
  GivenNumber,
  Role,
  System,
  Variable,
  Verdict,
} from "../../server/solve/system";
import { add, compare, exactly, type Givens, SystemBuilder, sub, within } from "./build";

const made = (step: number, off = 0): Partial<Variable> => ({
  role: "made",
  making: { step, off, offShare: 0, said: true, order: 0 },
});

function about(builder: SystemBuilder, more: Readonly<Record<string, Partial<Variable>>>): System {
  const { variables, equations } = builder.system();
  return {
    equations,
    variables: variables.map((variable) => ({ ...variable, ...more[variable.name] })),
  };
}

function offers(system: System, claim: Claim, step: (name: string) => number | undefined) {
  const drawn = draw(system);
  const outcome = outcomeOf(drawn, [claim]);
  const mends = mendsFor(drawn, outcome, claim, (v) => step(system.variables[v]?.name ?? ""));
  return {
    verdict: verdictOf(outcome, claim),
    mends,
    told: mends.map((mend) => [nameIn(system, mend), mend.value, mend.holds]),
  };
}

const nameIn = (system: System, { variable }: Pick<Mend, "variable">): string =>
  system.variables[variable]!.name;

/** The system with an offer written in. */
function mended(system: System, mend: Mend): System {
  const changes = new Map([
    [mend.variable, mend.value],
    ...(mend.also === undefined ? [] : [[mend.also.variable, mend.also.value] as const]),
  ]);
  const moved = (given: GivenNumber, value: number): GivenNumber => ({
    ...given,
    value,
    low: value - (given.value - given.low),
    high: value + (given.high - given.value),
  });
  return {
    variables: system.variables.map((each, v) => {
      const value = changes.get(v);
      if (value === undefined) return each;
      const { given, wish } = each;
      if (given === undefined && wish !== undefined) return { ...each, wish: moved(wish, value) };
      return { ...each, given: given === undefined ? exactly(value) : moved(given, value) };
    }),
    equations: system.equations.map((each) => {
      const value = changes.get(each.variables[0] ?? -1);
      const isWish = each.rank === "wanted" && each.variables.length === 1;
      if (value === undefined || !isWish) return each;
      return { ...each, form: { ...each.form, right: { op: "number", value } } };
    }),
  };
}

const levels = ["nominal", "rss", "worst"] as const;
const upTo = (verdict: Verdict): number => {
  const failing = levels.findIndex((level) => verdict[level] !== "holds");
  return failing < 0 ? 3 : failing;
};

test("the first level at which a check fails", () => {
  const of = (nominal: string, rss: string, worst: string) =>
    failingLevel({ nominal, rss, worst, open: [] } as unknown as Verdict);
  expect(of("holds", "holds", "holds")).toBeUndefined();
  expect(of("holds", "holds", "fails")).toBe("worst");
  expect(of("holds", "fails", "fails")).toBe("rss");
  expect(of("fails", "fails", "fails")).toBe("nominal");
  expect(of("unknown", "unknown", "unknown")).toBeUndefined();
  expect(of("holds", "holds", "unknown")).toBeUndefined();
});

describe("each of several figures", () => {
  const build = (roles: Readonly<Record<string, Role>>, givens: Givens) => {
    const builder = new SystemBuilder();
    for (const [name, given] of Object.entries(givens))
      builder.variable(name, { given, role: roles[name] ?? "bought", range: [0, 40] });
    builder.equation("gap", "gap", sub("room", add("one", "two")));
    return builder;
  };

  test("nominal, likely and worst: made before bought, as sure as it can be had", () => {
    const ways = [
      [exactly(10), exactly(6), exactly(5)],
      [within(11, 0.25), within(6, 0.25), within(5, 0.25)],
      [within(11.4, 0.25), within(6, 0.25), within(5, 0.25)],
    ] as const;
    const expected = ["nominal", "rss", "rss"];
    for (const [at, [room, one, two]] of ways.entries()) {
      const builder = build({ one: "made", two: "bought", room: "bought" }, { room, one, two });
      const claim = builder.claim(compare("gap", ">=", 0));
      const system = builder.system();
      const { mends, verdict } = offers(system, claim, () => 0.25);
      const level = failingLevel(verdict);
      expect(level, `${at}`).toBe(at === 0 ? "nominal" : expected[at] === "rss" ? level : "worst");
      expect(mends.length).toBeGreaterThan(2);
      expect(nameIn(system, mends[0]!)).toBe("one");
      for (const mend of mends) {
        const after = outcomeOf(draw(mended(system, mend)), [claim]);
        const sure = upTo(verdictOf(after, claim));
        expect(sure).toBeGreaterThan(levels.indexOf(level!));
        expect(mend.holds).toBe(levels[sure - 1]);
      }
    }
  });

  test("goes some steps further where that makes it hold at worst, and no further than needed", () => {
    // gap = room − one − two is −1, each ± 0.25: at worst 0.75 is taken, likely 0.43.
    const builder = build(
      { one: "made", two: "measured", room: "measured" },
      { room: within(10, 0.25), one: within(6, 0.25), two: within(5, 0.25) },
    );
    const claim = builder.claim(compare("gap", ">=", 0));
    // To 5 it holds as drawn; one further (4.75) leaves 0.25; two (4.5) 0.5; four (4) 1 and is sure.
    expect(offers(builder.system(), claim, () => 0.25).told).toEqual([["one", 4, "worst"]]);
    expect(offers(builder.system(), claim, () => 0.375).told).toEqual([["one", 4.125, "worst"]]);
    // Nothing that may be changed: nothing is offered.
    expect(offers(builder.system(), claim, () => undefined).told).toEqual([]);
    const holds = builder.claim(compare("gap", ">=", -9));
    expect(offers(builder.system(), holds, () => 0.25).told).toEqual([]);
  });

  test("at most five, the gentlest, and pairs where one alone does not do", () => {
    const builder = new SystemBuilder();
    const names = ["a", "b", "c", "d", "e", "f", "g"];
    for (const name of names) builder.variable(name, { given: 3, role: "made", range: [0, 5] });
    builder.equation("sum", "sum", add("a", ...names.slice(1)));
    const claim = builder.claim(compare("sum", ">=", 22.5));
    const { mends } = offers(builder.system(), claim, () => 0.5);
    expect(mends).toHaveLength(5);
    for (const { value, effort } of mends) expect([value, effort]).toEqual([4.5, 1.5]);
    // 24 needs 3 more: none alone, since each ends at 5.
    const far = builder.claim(compare("sum", ">=", 24));
    const pairs = offers(builder.system(), far, () => 0.5).mends;
    expect(pairs.length).toBeGreaterThan(0);
    for (const mend of pairs) {
      expect(mend.value + mend.also!.value).toBeGreaterThanOrEqual(9);
      const after = outcomeOf(draw(mended(builder.system(), mend)), [far]);
      expect(verdictOf(after, far).nominal).toBe("holds");
    }
  });
});

describe("where wishes and steps are in play", () => {
  // mark = limit + gap, the gap wanted, the mark made in halves; the end must come to something.
  const builder = () =>
    new SystemBuilder()
      .variable("limit", { given: 10.1, role: "bought" })
      .variable("plate", { given: 2, role: "made" })
      .equation("mark", "mark", add("limit", "gap"))
      .equation("end", "end", add("mark", "plate"))
      .equation("gap wish", "gap", 0.8, "wanted");
  const system = (own: SystemBuilder) =>
    about(own, { mark: made(0.5), gap: { wish: exactly(0.8), role: "wanted" } });

  test("each offer holds once all is drawn and made anew, another wish last", () => {
    const own = builder();
    const claim = own.claim(compare("end", ">=", 14));
    const { mends, told } = offers(system(own), claim, (name) =>
      name === "gap" ? 0.1 : name === "plate" ? 0.5 : undefined,
    );
    // As drawn 10.9, made 11, with the plate 13. One more: plate 3; or a gap that brings the mark to 12.
    expect(told[0]).toEqual(["plate", 3, "worst"]);
    const names = told.map(([name]) => name);
    expect(names.at(-1)).toBe("gap");
    for (const mend of mends) {
      const after = outcomeOf(draw(mended(system(own), mend)), [claim]);
      expect(verdictOf(after, claim).nominal, nameIn(system(own), mend)).toBe("holds");
    }
    const gap = mends.at(-1)!;
    // The mark is at 12 from 11.75 on: a gap of 1.65, and with the check 1.9 as drawn.
    expect(gap.value).toBeGreaterThanOrEqual(1.65 - 1e-9);
    expect(gap.value).toBeLessThanOrEqual(1.9 + 0.1 + 1e-9);
  });

  test("a figure that a wish would draw back to where it was is not offered", () => {
    // Another limit only moves the gap's mark; the end follows the mark, which follows the limit.
    const own = builder();
    const claim = own.claim(compare("gap", ">=", 1.5));
    for (const mend of offers(system(own), claim, () => 0.5).mends) {
      const after = outcomeOf(draw(mended(system(own), mend)), [claim]);
      expect(verdictOf(after, claim).nominal, nameIn(system(own), mend)).toBe("holds");
    }
  });
});
