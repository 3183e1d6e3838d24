/**
 * What is likely, in how many builds a check holds, and at which level it is told: builder's files with
 * invented figures, each judged by 100,000 draws of its own or in closed form.
 */
import { describe, expect, test } from "vitest";
import { analyzed } from "../model/build";
import { randoms } from "../solve/random-systems";

/** How a figure lies within its limits. */
type Spread = "normal" | "triangular" | "uniform";
type Draw = (name: string) => number;

const DRAWS = 100_000;

interface Given {
  readonly value: number;
  readonly by: number;
  readonly as?: Spread;
  readonly with?: string;
}

/** A draw from −1 to 1; a normal one is cut off at three standard deviations. */
function between(as: Spread, random: () => number): number {
  if (as === "uniform") return 2 * random() - 1;
  if (as === "triangular") return random() - random();
  for (;;) {
    const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    if (Math.abs(normal) <= 3) return normal / 3;
  }
}

function drawn(
  givens: Readonly<Record<string, Given>>,
  formula: (of: Draw) => number,
  count = DRAWS,
): Float64Array {
  const random = randoms(707);
  return Float64Array.from({ length: count }, () => {
    const jigs = new Map<string, number>();
    const values = new Map<string, number>();
    for (const [name, { value, by, as = "normal", with: jig }] of Object.entries(givens)) {
      const own = between(as, random);
      const place = jig === undefined ? own : (jigs.get(jig) ?? own);
      if (jig !== undefined) jigs.set(jig, place);
      values.set(name, value + by * place);
    }
    return formula((name) => values.get(name)!);
  }).sort();
}

const known = new Map<string, Float64Array>();

/** Drawn once for both that is asked of a case. */
function drawnOf(...[name, givens, , formula]: (typeof cases)[number]): Float64Array {
  const draws = known.get(name) ?? drawn(givens, formula);
  known.set(name, draws);
  return draws;
}

function written(givens: Readonly<Record<string, Given>>): string {
  return Object.entries(givens)
    .map(([name, { value, by, as, with: jig }]) => {
      const words = [as, jig === undefined ? undefined : `together "${jig}"`];
      return `${name}: ${value} mm ± ${by} mm ${words.filter((word) => word !== undefined).join(" ")}`;
    })
    .join("\n");
}

/** Formulas in millimeters, as written and as reckoned here. */
const cases: readonly [string, Readonly<Record<string, Given>>, string, (of: Draw) => number][] = [
  [
    "a sum of a normal and an even one",
    { a: { value: 31, by: 0.4 }, b: { value: 17, by: 0.3, as: "uniform" } },
    "k.a + k.b",
    (of) => of("a") + of("b"),
  ],
  [
    "three even ones",
    {
      a: { value: 8, by: 0.2, as: "uniform" },
      b: { value: 9, by: 0.2, as: "uniform" },
      c: { value: 11, by: 0.3, as: "uniform" },
    },
    "k.a + k.b - k.c",
    (of) => of("a") + of("b") - of("c"),
  ],
  [
    "one jig for two, taken off one another",
    {
      a: { value: 40, by: 0.5, with: "jig" },
      b: { value: 22, by: 0.5, with: "jig" },
      c: { value: 5, by: 0.2 },
    },
    "k.a - k.b + k.c",
    (of) => of("a") - of("b") + of("c"),
  ],
  [
    "one tape for two, added up",
    {
      a: { value: 40, by: 0.5, with: "tape" },
      b: { value: 22, by: 0.25, with: "tape" },
      c: { value: 5, by: 0.4 },
    },
    "k.a + k.b + k.c",
    (of) => of("a") + of("b") + of("c"),
  ],
  [
    "a square about nothing",
    { a: { value: 0, by: 3 }, b: { value: 2, by: 0.5, as: "triangular" } },
    "k.a ^ 2 / 1 mm + k.b",
    (of) => of("a") ** 2 + of("b"),
  ],
  [
    "how far two are apart",
    { a: { value: 12, by: 0.6 }, b: { value: 12, by: 0.4, as: "uniform" } },
    "abs(k.a - k.b)",
    (of) => Math.abs(of("a") - of("b")),
  ],
  [
    "the greatest of three",
    { a: { value: 20, by: 0.5 }, b: { value: 20.1, by: 0.5 }, c: { value: 19.9, by: 0.7 } },
    "max(k.a, k.b, k.c)",
    (of) => Math.max(of("a"), of("b"), of("c")),
  ],
  [
    "a reciprocal far from straight",
    { a: { value: 3, by: 2 }, b: { value: 5, by: 0.2 } },
    "10 mm * 1 mm / k.a + k.b",
    (of) => 10 / of("a") + of("b"),
  ],
  [
    "a diagonal",
    { a: { value: 0.5, by: 1.5 }, b: { value: 1, by: 1, as: "triangular" } },
    "sqrt(k.a ^ 2 + k.b ^ 2)",
    (of) => Math.hypot(of("a"), of("b")),
  ],
  [
    "a product of two that are about nothing",
    { a: { value: 0, by: 2 }, b: { value: 0, by: 4, as: "uniform" } },
    "k.a * k.b / 1 mm",
    (of) => of("a") * of("b"),
  ],
  [
    "another formula on either side",
    { a: { value: 7, by: 0.9 }, b: { value: 7.2, by: 0.5 } },
    "if k.a > k.b then 2 * k.a - k.b else k.b + 0.5 mm",
    (of) => (of("a") > of("b") ? 2 * of("a") - of("b") : of("b") + 0.5),
  ],
  [
    "the next half step",
    { a: { value: 10.2, by: 0.4, as: "uniform" }, b: { value: 3, by: 0.1 } },
    "round(k.a, 0.5 mm) + k.b",
    (of) => Math.round(of("a") / 0.5) * 0.5 + of("b"),
  ],
  [
    "a ratio of two",
    { a: { value: 30, by: 6 }, b: { value: 20, by: 5 } },
    "k.a / k.b * 1 mm",
    (of) => of("a") / of("b"),
  ],
];

const text = (givens: Readonly<Record<string, Given>>, formula: string, check = "") =>
  `kind case { a: length\nb: length\nc: length\nout: length\nrelation "out": out = ${formula.replaceAll("k.", "")} }
case k { ${written(givens)}\nout: ? }\n${check}`;

describe("what is likely takes in what 99.73 of 100 builds come to", () => {
  test.each(cases)("%s", (...each) => {
    const [, givens, formula] = each;
    const value = analyzed(text(givens, formula)).valueAt("k.out")!;
    const spread = value.spread()!;
    const draws = drawnOf(...each);
    const at = (share: number): number => draws[Math.round(share * (DRAWS - 1))]!;
    const whole = draws.at(-1)! - draws[0]!;
    const low = (value.si! + spread.shift - spread.rss) * 1000;
    const high = (value.si! + spread.shift + spread.rss) * 1000;
    // Quantiles so far out are known to a few hundredths of all there is.
    const room = 0.05 * whole;
    expect(Math.abs(low - at(0.00135))).toBeLessThan(room);
    expect(Math.abs(high - at(0.99865))).toBeLessThan(room);
    // Never beyond the worst case, and nothing was drawn outside of that.
    const [least, most] = [value.si! - spread.worstBelow, value.si! + spread.worstAbove];
    expect(low / 1000).toBeGreaterThanOrEqual(least - 1e-12);
    expect(high / 1000).toBeLessThanOrEqual(most + 1e-12);
    expect(draws[0]! / 1000).toBeGreaterThanOrEqual(least - 1e-9);
    expect(draws.at(-1)! / 1000).toBeLessThanOrEqual(most + 1e-9);
  });
});

describe("in how many builds a check holds", () => {
  // A limit that so many of a hundred keep.
  test.each(cases.flatMap((each, at) => [[...each, [0.97, 0.6, 0.2][at % 3]!] as const]))(
    "%s",
    (name, givens, formula, reckoned, share) => {
      const draws = drawnOf(name, givens, formula, reckoned);
      const limit = Number(draws[Math.round(share * (DRAWS - 1))]!.toFixed(4));
      const analysis = analyzed(text(givens, formula, `check "below": k.out <= ${limit} mm\n`));
      const told = analysis.checks[0]!.chance()!;
      const held = draws.filter((each) => each <= limit).length / DRAWS;
      // Three standard deviations of either count.
      const room = 3 * Math.sqrt(held * (1 - held)) * (1 / Math.sqrt(4096) + 1 / Math.sqrt(DRAWS));
      expect(Math.abs(told.share - held)).toBeLessThan(room + 0.003);
      if (told.draws > 0) {
        expect(told.low).toBeLessThanOrEqual(told.share);
        expect(told.high).toBeGreaterThanOrEqual(told.share);
        expect(told.high - told.low).toBeLessThan(0.035);
      }
    },
  );
});

describe("how loudly a check speaks, by the level at which it first fails", () => {
  /** A margin over its limit, two parts of ± 0.5 mm: 1 mm at worst, 0.707 mm likely. */
  const margins = [-0.2, 0.1, 0.5, 0.7, 0.72, 0.95, 1.05];
  const levels: readonly [
    "error" | "warning" | "note" | "off",
    "error" | "warning" | "note" | "off",
  ][] = [
    ["warning", "note"],
    ["warning", "error"],
    ["note", "error"],
    ["error", "off"],
    ["off", "error"],
    ["off", "off"],
    ["off", "warning"],
  ];
  const loud = ["off", "note", "warning", "error"];
  test.each(margins.flatMap((margin) => levels.map((each) => [margin, ...each] as const)))(
    "%d mm left, likely told as %s, worst as %s",
    (margin, rss, worst) => {
      const [finding, ...others] = analyzed(
        `kind case { a: length\nb: length }
case k { a: 12 mm ± 0.5 mm\nb: ${(11 - margin).toFixed(2)} mm ± 0.5 mm }
check "room": k.a - k.b >= 1 mm\n`,
        { levels: { rss, worst } },
      ).findings;
      expect(others).toEqual([]);
      const failsAt =
        margin < 0
          ? "nominal"
          : margin < Math.SQRT1_2
            ? "likely"
            : margin < 1
              ? "worst"
              : "nowhere";
      // What fails where it is likely fails at worst too.
      const louder = loud[Math.max(loud.indexOf(rss), loud.indexOf(worst))];
      const wanted = { nominal: "error", likely: louder, worst, nowhere: "off" }[failsAt];
      expect(finding?.severity ?? "off").toBe(wanted);
      if (finding === undefined) return;
      const said = {
        nominal: "does not hold",
        likely: "not in all that is likely",
        worst: "not in the worst case",
        nowhere: "",
      };
      expect(finding.message).toContain(said[failsAt]);
    },
  );
});

describe("checks of several claims say each figure in its own unit, and no ± of one in that of another", () => {
  const given = `case k { a: 12 mm ± 0.5 mm\nb: 10.3 mm ± 0.5 mm\nt: 4.9 deg ± 0.3 deg\nm: 3 kg ± 0.2 kg\nn: 4 }`;
  const kinds = "kind case { a: length\nb: length\nt: angle\nm: mass\nn: count }";
  /** The claim, and whether it holds at all places and at some. */
  type Claim = (a: number, b: number, t: number, m: number) => boolean;
  const claims: readonly [string, Claim][] = [
    ["k.a - k.b >= 1 mm and k.t < 5 deg", (a, b, t) => a - b >= 1 && t < 5],
    ["k.a - k.b >= 1 mm or k.t < 5 deg", (a, b, t) => a - b >= 1 || t < 5],
    ["k.a - k.b >= 0.5 mm and k.t < 6 deg", (a, b, t) => a - b >= 0.5 && t < 6],
    ["k.t < 5 deg and k.m <= 3.1 kg", (_a, _b, t, m) => t < 5 && m <= 3.1],
    ["k.t < 4 deg or k.m <= 3.1 kg", (_a, _b, t, m) => t < 4 || m <= 3.1],
    ["not (k.a - k.b < 1 mm or k.t > 5 deg)", (a, b, t) => !(a - b < 1 || t > 5)],
    ["not (k.a < 11 mm and k.t > 5 deg)", (a, _b, t) => !(a < 11 && t > 5)],
    ["k.m >= 2.9 kg and k.m <= 3.1 kg", (_a, _b, _t, m) => m >= 2.9 && m <= 3.1],
    ["k.m >= 2.8 kg and k.m <= 3.2 kg", (_a, _b, _t, m) => m >= 2.8 && m <= 3.2],
    ["k.a > k.b and k.b > 9 mm and k.t > 4 deg", (a, b, t) => a > b && b > 9 && t > 4],
    ["k.a > k.b and k.b > 10 mm and k.n == 4", (a, b) => a > b && b > 10],
    ["k.a > k.b and k.b > 9 mm and k.n == 4", (a, b) => a > b && b > 9],
    ["k.a > k.b and k.n >= 4", (a, b) => a > b],
    ["k.a - k.b >= 0.7 mm and k.t < 5.3 deg", (a, b, t) => a - b >= 0.7 && t < 5.3],
    ["k.n == 4 or k.t > 5 deg", () => true],
    ["k.n == 5 or k.t > 4.5 deg", (_a, _b, t) => t > 4.5],
    ["not (k.t > 5.3 deg or k.n != 4)", (_a, _b, t) => !(t > 5.3)],
    ["(k.a > 13 mm or k.b > 9 mm) and k.t <= 5 deg", (a, b, t) => (a > 13 || b > 9) && t <= 5],
  ];
  test.each(claims)("%s", (condition, claim) => {
    const analysis = analyzed(`${kinds}\n${given}\ncheck "both": ${condition}\n`);
    const ends = [-1, -0.5, 0, 0.5, 1];
    const places = ends.flatMap((a) =>
      ends.flatMap((b) => ends.flatMap((t) => ends.map((m) => [a, b, t, m] as const))),
    );
    const always = places.every(([a, b, t, m]) =>
      // Half a step from where a claim turns, so that rounding decides nothing.
      claim(12 + 0.4999 * a, 10.3 + 0.4999 * b, 4.9 + 0.2999 * t, 3 + 0.1999 * m),
    );
    const [check] = analysis.checks;
    expect(claim(12, 10.3, 4.9, 3)).toBe(true);
    expect(check?.verdict.nominal).toBe("holds");
    expect(check?.verdict.worst).toBe(always ? "holds" : "fails");
    const said = analysis.findings.map(({ message, hint = "" }) => `${message} ${hint}`).join("\n");
    expect(said === "").toBe(always);
    if (always) return;
    // A ± of what is compared in another unit would have to name a side: none is told.
    expect(said).not.toContain("tolerances take");
    for (const [name, unit] of [
      ["a", "mm"],
      ["b", "mm"],
      ["t", "deg"],
      ["m", "kg"],
    ] as const) {
      for (const [, found] of said.matchAll(
        new RegExp(`\\b(?:k\\.)?${name} (?:is )?-?[\\d.]+ (\\w+)`, "g"),
      ))
        expect(found).toBe(unit);
    }
    const draws = drawn(
      {
        a: { value: 12, by: 0.5 },
        b: { value: 10.3, by: 0.5 },
        t: { value: 4.9, by: 0.3 },
        m: { value: 3, by: 0.2 },
      },
      (of) => (claim(of("a"), of("b"), of("t"), of("m")) ? 1 : 0),
      20_000,
    );
    const held = draws.reduce((sum, each) => sum + each, 0) / draws.length;
    expect(Math.abs((check?.chance()?.share ?? 0) - held)).toBeLessThan(0.025);
  });
});
