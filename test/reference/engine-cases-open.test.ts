/**
 * What rests on what, which case holds, and what curves fix in several ways: builder's files with
 * invented figures, each judged by a computation that knows nothing of the engine (trying defaults all
 * over their ranges, every case in turn, closed forms).
 */
import { describe, expect, test } from "vitest";
import { analyzed } from "../model/build";

describe("what rests on a default, by trying it all over its range", () => {
  type Function = (b: number, c: number, g: number) => number;
  // b from 1 to 60, as it is 12; c from 1 to 60, as it is 7; g is given as 9.
  const cases: readonly [string, string, Function][] = [
    [
      "cancels at this number alone",
      `relation "p": p = b ^ 2 / 24 mm\nrelation "r": r = p - b`,
      (b) => b ** 2 / 24 - b,
    ],
    [
      "cancels at all",
      `relation "p": p = 2 * b + g\nrelation "r": r = p - 2 * b`,
      (_b, _c, g) => g,
    ],
    [
      "cancels as a ratio",
      `relation "p": p = 3 * b\nrelation "n": n = p / b\nrelation "r": r = n * c`,
      (_b, c) => 3 * c,
    ],
    ["below what its range can reach", `relation "r": r = max(b, 100 mm)`, () => 100],
    ["just below the end of its range", `relation "r": r = max(b, 59 mm)`, (b) => Math.max(b, 59)],
    [
      "a side not taken",
      `relation "r": r = if b < 50 mm then c else g`,
      (b, c, g) => (b < 50 ? c : g),
    ],
    ["a condition beyond its range", `relation "r": r = if b < 70 mm then c else g`, (_b, c) => c],
    ["times nothing", `relation "r": r = b * (g - 9 mm) / 1 mm + c`, (_b, c) => c],
    ["a wide step", `relation "r": r = round(b, 40 mm)`, (b) => Math.round(b / 40) * 40],
    [
      "a step beyond its range",
      `relation "n": n = floor(b / 100 mm)\nrelation "r": r = n * c + g`,
      (_b, _c, g) => g,
    ],
    [
      "one limit behind another",
      `relation "p": p = max(b, 50 mm)\nrelation "r": r = max(p, 70 mm)`,
      () => 70,
    ],
    [
      "one limit within another",
      `relation "p": p = max(b, 50 mm)\nrelation "r": r = min(p, 55 mm) + c`,
      (b, c) => Math.min(Math.max(b, 50), 55) + c,
    ],
    [
      "two together",
      `relation "s": p + q = b\nrelation "d": p - q = c\nrelation "r": r = p`,
      (b, c) => (b + c) / 2,
    ],
    [
      "two together, of which one is left",
      `relation "s": p + q = b + c\nrelation "d": p - q = b - c\nrelation "r": r = q`,
      (_b, c) => c,
    ],
    [
      "a product of two that are nothing here",
      `relation "p": p = b - 12 mm\nrelation "q": q = c - 7 mm\nrelation "r": r = p * q / 1 mm`,
      (b, c) => (b - 12) * (c - 7),
    ],
    ["a corner", `relation "r": r = abs(b - 12 mm)`, (b) => Math.abs(b - 12)],
    [
      "the bottom of a bowl",
      `relation "p": p = b - 12 mm\nrelation "r": r = g + p ^ 2 / 1 mm`,
      (b, _c, g) => g + (b - 12) ** 2,
    ],
    [
      "ways that cross twice",
      `relation "p": p = (b - 12 mm) * (b - 30 mm) / 1 mm\nrelation "r": r = p * c / 1 mm + g`,
      (b, c, g) => (b - 12) * (b - 30) * c + g,
    ],
  ];
  test.each(cases)("%s", (_, relations, formula) => {
    const analysis = analyzed(`kind case { b: length range 1 mm..60 mm default 12 mm
c: length range 1 mm..60 mm default 7 mm
g: length\np: length\nq: length\nr: length\nn: number
${relations} }
case k { g: 9 mm\nr: ? }`);
    const places = Array.from({ length: 237 }, (_each, at) => 1 + at / 4);
    const moves = (at: 0 | 1): boolean =>
      [12, 7, 33.5].some((other) => {
        const values = places.map((place) =>
          at === 0 ? formula(place, other, 9) : formula(other, place, 9),
        );
        return Math.max(...values) - Math.min(...values) > 1e-9;
      });
    const rests = analysis.valueAt("k.r")?.restsOn ?? [];
    expect(rests.some((each) => each.startsWith("k.b "))).toBe(moves(0));
    expect(rests.some((each) => each.startsWith("k.c "))).toBe(moves(1));
    expect(analysis.valueAt("k.r")?.si).toBeCloseTo(formula(12, 7, 9) / 1000, 12);
  });
});

describe("cases and figures that decide each other, by trying every case", () => {
  /** Force of a row of springs over travel: from where each straight piece holds, its force there and its rate. */
  type Piece = readonly [from: number, to: number, force: number, rate: number];
  const rows: readonly [string, readonly Piece[], number][] = [
    [
      "the first of three",
      [
        [0, 2, 0, 10],
        [2, 4, 20, 20],
        [4, 9, 60, 50],
      ],
      13,
    ],
    [
      "the second of three",
      [
        [0, 2, 0, 10],
        [2, 4, 20, 20],
        [4, 9, 60, 50],
      ],
      47,
    ],
    [
      "the third of three",
      [
        [0, 2, 0, 10],
        [2, 4, 20, 20],
        [4, 9, 60, 50],
      ],
      155,
    ],
    [
      "where two meet",
      [
        [0, 2, 0, 10],
        [2, 4, 20, 20],
        [4, 9, 60, 50],
      ],
      20,
    ],
    [
      "a spring that lets go: two answers",
      [
        [0, 3, 0, 10],
        [3, 8, 12, 9],
      ],
      25,
    ],
    [
      "a spring that lets go, below",
      [
        [0, 3, 0, 10],
        [3, 8, 12, 9],
      ],
      7,
    ],
    [
      "a spring that lets go, above",
      [
        [0, 3, 0, 10],
        [3, 8, 12, 9],
      ],
      48,
    ],
    [
      "a jump that nothing fills",
      [
        [0, 3, 0, 10],
        [3, 8, 50, 9],
      ],
      40,
    ],
    [
      "a falling piece: three answers",
      [
        [0, 2, 0, 15],
        [2, 4, 30, -10],
        [4, 9, 10, 12],
      ],
      22,
    ],
    [
      "a falling piece, one answer",
      [
        [0, 2, 0, 15],
        [2, 4, 30, -10],
        [4, 9, 10, 12],
      ],
      4.5,
    ],
    [
      "four pieces",
      [
        [0, 1, 0, 8],
        [1, 2, 8, 16],
        [2, 3, 24, 32],
        [3, 4, 56, 64],
      ],
      99,
    ],
    [
      "preload",
      [
        [0, 5, 12, 6],
        [5, 9, 42, 30],
      ],
      30,
    ],
    [
      "less than the preload",
      [
        [0, 5, 12, 6],
        [5, 9, 42, 30],
      ],
      9,
    ],
  ];
  test.each(rows)("%s", (_, pieces, load) => {
    const relations = pieces.map(
      ([from, to, force, rate], at) =>
        `relation "piece ${at + 1}" when travel >= ${from} and travel < ${to}: load = ${force} + ${rate} * (travel - ${from})`,
    );
    const analysis = analyzed(`kind row { load: number
travel: number range 0..9
${relations.join("\n")} }
row k { load: ${load}\ntravel: ? }`);
    const answers = pieces.flatMap(([from, to, force, rate]) => {
      const travel = from + (load - force) / rate;
      return travel >= from - 1e-12 && travel < to - 1e-12 ? [travel] : [];
    });
    const codes = analysis.findings.map(({ code }) => code);
    if (answers.length === 1) {
      expect(analysis.valueAt("k.travel")?.si).toBeCloseTo(answers[0]!, 9);
      expect(codes).toEqual([]);
    } else {
      expect(analysis.valueAt("k.travel")?.si).toBeUndefined();
      expect(codes).toEqual([answers.length === 0 ? "solve/no-case" : "solve/several-cases"]);
    }
  });

  test.each([
    [3, 4, 6],
    [9, 4, 6],
    [16, 4, 6],
    [11, 2, 3],
    [2, 2.5, 7],
    [30, 1, 20],
  ])("a load of %d on a bar with stops at %d and %d", (load, first, second) => {
    const analysis = analyzed(`kind bar { load: number
sag: number range 0..1000\nfirst: number range 0..1000\nsecond: number range 0..1000
relation "clear of the first" when sag < ${first}: first = 0
relation "on the first" when sag >= ${first}: first = 2 * (sag - ${first})
relation "clear of the second" when sag < ${second}: second = 0
relation "on the second" when sag >= ${second}: second = 3 * (sag - ${second})
relation "balance": load = sag + first + second }
bar k { load: ${load}\nsag: ?\nfirst: ?\nsecond: ? }`);
    const answers = [0, 1, 2, 3].flatMap((bits) => {
      const [on, also] = [bits & 1, bits >> 1];
      const sag = (load + 2 * first * on + 3 * second * also) / (1 + 2 * on + 3 * also);
      return sag >= first === (on === 1) && sag >= second === (also === 1) ? [sag] : [];
    });
    expect(answers).toHaveLength(1);
    expect(analysis.valueAt("k.sag")?.si).toBeCloseTo(answers[0]!, 9);
    expect(analysis.findings).toEqual([]);
  });
});

describe("a figure that curves fix in several ways, whatever stays open", () => {
  const text = (power: number, sum: number, near: string) => `kind case {
a: length range -90 mm..90 mm
b: length range -90 mm..90 mm\nd: length range 1 mm..90 mm\ne: length range 1 mm..90 mm
relation "r": (a / 1 mm) ^ ${power} + d * e / 1 mm ^ 2 = ${sum}
relation "s": d * e = b * 1 mm }
case k { b: 5 mm ± 0.5 mm\na: ? ${near} }`;
  test.each([
    [2, 9],
    [2, 30],
    [2, 5.5],
    [4, 21],
    [4, 86],
  ])("a power of %d up to %d: both are listed, and one is picked", (power, sum) => {
    const root = (sum - 5) ** (1 / power);
    const open = analyzed(text(power, sum, ""));
    expect(open.valueAt("k.a")?.si).toBeUndefined();
    const [finding] = open.findings;
    expect(finding?.code).toBe("solve/several-answers");
    for (const sign of [-1, 1]) {
      const found = analyzed(text(power, sum, `near ${sign * 80} mm`)).valueAt("k.a");
      expect(found?.si).toBeCloseTo((sign * root) / 1000, 9);
      // Found at the places that were tried: its ± is no proof either.
      const spread = found?.spread();
      expect([spread?.below.known, spread?.above.known]).toEqual(["found", "found"]);
      const far = (sum - 4.5) ** (1 / power) - root;
      const near = root - (sum - 5.5) ** (1 / power);
      const [below, above] = sign > 0 ? [near, far] : [far, near];
      expect(spread?.worstBelow).toBeCloseTo(below / 1000, 6);
      expect(spread?.worstAbove).toBeCloseTo(above / 1000, 6);
    }
  });

  test("an odd power has one answer, and one out of reach none", () => {
    expect(analyzed(text(3, 13, "")).valueAt("k.a")?.si).toBeCloseTo(0.002, 9);
    expect(analyzed(text(2, 4, "")).valueAt("k.a")?.si).toBeUndefined();
  });
});
