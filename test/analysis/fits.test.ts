/** What would make a failing check hold: each change written into the text and read from scratch. */
import { describe, expect, test } from "vitest";
import type { Analysis, CheckResult } from "../../server/analysis/analysis";
import { failingLevel } from "../../server/solve";
import { analyzed } from "../model/build";

const kinds = `table drill "Drills" {
  key n: number "Number"
  size: length in mm "Size"
  lookup exact
  row 1, 5.5  row 2, 6  row 3, 6.6  row 4, 8
}
kind plate "Plate" {
  width: length made to 1/16 in ± 1/64 in
  lip: length default 1/4 in
  most: length limit default 7 in
  holes: count
  drill: number bought
  edge: length shown
  bore: length
  relation "edge": edge = (width - 2 * lip) / (holes + 1)
  relation "bore": bore = drill(drill)
  check "edge": edge >= 1 in
  check "bolt": bore >= 6.4 mm
  check "not too wide": width <= most
  check "lip": lip >= 3/16 in
}
`;

const named = (analysis: Analysis, title: string): CheckResult =>
  analysis.checks.find((check) => check.title === title) as CheckResult;

/** The build with a fit written into it as an option would write it. */
const withFit = (text: string, fit: ReturnType<CheckResult["fits"]>[number]): Analysis => {
  const lines = fit.offers.map(({ path, shown }) => `${path}: ${shown}`);
  return analyzed(`${text}\noption tried { ${lines.join("; ")} }`).under("tried") as Analysis;
};

describe("each change offered", () => {
  for (const plate of [
    "width: 5 1/4 in; holes: 4; drill: 1",
    "width: 5 1/2 in; holes: 4; drill: 2",
    "width: 6 1/2 in; holes: 5; lip: 3/8 in; drill: 4",
    "width: 4 in; holes: 5; drill: 3",
  ]) {
    test(plate, () => {
      const text = `${kinds}plate p { ${plate} }`;
      const analysis = analyzed(text);
      const failing = analysis.checks.filter(({ verdict }) => failingLevel(verdict) !== undefined);
      expect(failing.length).toBeGreaterThan(0);
      for (const check of failing) {
        const fits = check.fits();
        expect(fits.length).toBeGreaterThan(0);
        for (const fit of fits) {
          const after = withFit(text, fit);
          expect(named(after, check.title).verdict[fit.holds]).toBe("holds");
          // At the level at which it failed, at least.
          const level = failingLevel(check.verdict) ?? "nominal";
          expect(named(after, check.title).verdict[level]).toBe("holds");
          const broken = after.checks.filter((other) => {
            const now = failingLevel(other.verdict);
            return now !== undefined && named(analysis, other.title).verdict[now] !== "fails";
          });
          expect(fit.breaks.map(({ title }) => title).sort()).toEqual(
            broken.map(({ title }) => `p: ${title}`).sort(),
          );
          for (const { path, to } of fit.moves) {
            const value = after.valueAt(path);
            expect(Number.parseFloat(to)).not.toBeNaN();
            expect(value?.standing).not.toBe("missing");
          }
        }
        // What breaks nothing goes first.
        const counts = fits.map(({ breaks }) => breaks.length);
        expect([...counts].sort((one, other) => one - other)).toEqual(counts);
      }
    });
  }
});

test("the nearest change in the steps of the thing, by trying all", () => {
  const text = `${kinds}plate p { width: 5 1/4 in; holes: 4; drill: 1 }`;
  const analysis = analyzed(text);
  const offered = new Map(
    analysis.checks.flatMap((check) =>
      failingLevel(check.verdict) === undefined
        ? []
        : check.fits().map((fit) => [`${check.title} ${fit.offers[0]?.path}`, fit] as const),
    ),
  );
  const holds = (line: string, title: string): boolean => {
    const option = analyzed(`${text}\noption t { ${line} }`).under("t") as Analysis;
    return failingLevel(named(option, title).verdict) === undefined;
  };
  // Widths in sixteenths, whole holes, rows of the list, and the default that nobody wrote.
  const widths = Array.from({ length: 48 }, (_, at) => 84 + at).find((at) =>
    holds(`p.width: ${at}/16 in`, "edge"),
  ) as number;
  expect(offered.get("edge p.width")?.offers[0]?.si).toBeCloseTo((widths / 16) * 0.0254, 9);
  const holes = [3, 2, 1].find((count) => holds(`p.holes: ${count}`, "edge"));
  expect(offered.get("edge p.holes")?.offers[0]?.si).toBe(holes);
  const row = [2, 3, 4].find((number) => holds(`p.drill: ${number}`, "bolt"));
  expect(offered.get("bolt p.drill")?.offers[0]?.si).toBe(row);
  expect(offered.has("edge p.lip")).toBe(true);
  expect(offered.get("edge p.lip")?.breaks).toEqual([{ title: "p: lip", level: "nominal" }]);
});

test("a limit that nobody wrote is not moved, nor a figure that is read off", () => {
  const text = `${kinds}plate p { width: 7 1/4 in; holes: 2; drill: 4 }`;
  const fits = named(analyzed(text), "not too wide").fits();
  expect(fits.flatMap(({ offers }) => offers.map(({ path }) => path))).toEqual(["p.width"]);
});

test("a tolerance to tighten: as told it holds, a little wider it does not", () => {
  const gap = (a: string, b: string) => `kind gap {
  opening: length; a: length measured; b: length measured; left: length
  relation "left": left = opening - a - b
  check "room": left >= 0.265 in
}
gap g { opening: 10.3 in; a: 5 in ${a}; b: 5 in ${b} }`;
  const verdict = (a: string, b: string) => named(analyzed(gap(a, b)), "room").verdict;
  expect(verdict("± 0.02 in", "± 0.025 in")).toMatchObject({ nominal: "holds", worst: "fails" });
  const told = named(analyzed(gap("± 0.02 in", "± 0.025 in")), "room").tighter();
  // By hand 0.035 in is left: 0.015 for b beside a's 0.02, 0.01 for a beside b's 0.025.
  expect(told.map(({ figures }) => figures)).toEqual([
    [{ path: "g.b", to: "± 0.015 in", from: "± 0.025 in" }],
    [{ path: "g.a", to: "± 0.01 in", from: "± 0.02 in" }],
  ]);
  expect(verdict("± 0.02 in", "± 0.015 in").worst).toBe("holds");
  expect(verdict("± 0.02 in", "± 0.016 in").worst).toBe("fails");
  expect(verdict("± 0.01 in", "± 0.025 in").worst).toBe("holds");
});

test("a part that is there already is tried in the place of what is fitted, with what it moves and breaks", () => {
  const text = `//- build.trammel
use "wheels.trammel" as rims
kind hoop "Hoop" {
  offset: length bought
  mass: mass bought
}
kind corner_of_car "Corner" {
  rim: hoop
  half: length measured
  gap: length
  relation "gap": gap = half - rim.offset
  check "room": gap >= 1 in
  check "light": rim.mass <= 20 kg
}
hoop mine { offset: 40 mm; mass: 15 kg }
hoop same { offset: 39 mm; mass: 15 kg }
corner_of_car c { rim: mine; half: 60 mm; gap: ? }
//- wheels.trammel
hoop deep { offset: 5 mm; mass: 25 kg }
hoop light { offset: 10 mm; mass: 12 kg }
`;
  const [room] = analyzed(text).checks.filter(({ title }) => title === "room");
  expect(
    room?.otherParts().map(({ path, part, was, breaks }) => [path, part, was, breaks.length]),
  ).toEqual([
    ["c.rim", "rims.light", "mine", 0],
    ["c.rim", "rims.deep", "mine", 1],
  ]);
  expect(room?.otherParts()[0]?.moves).toEqual([{ path: "c.gap", from: "20 mm", to: "50 mm" }]);
  const fixes = analyzed(text).findings.flatMap(({ furtherFixes }) => furtherFixes?.() ?? []);
  expect(fixes.map(({ title }) => title)).toContain("c.rim: rims.light in place of mine");
  expect(fixes.map(({ title }) => title)).toContain(
    "c.rim: rims.deep in place of mine; breaks a check",
  );
});

describe("a figure that is 0 says nothing of its size, and is changed all the same", () => {
  const offered = (range: string, claim: string): (readonly string[])[] => {
    const analysis = analyzed(
      `kind spot { x: number ${range}\ncheck "c": ${claim} }\nspot a { x: 0 }`,
    );
    return analysis.checks[0]!.fits().map(({ offers }) =>
      offers.map(({ path, shown }) => `${path} ${shown}`),
    );
  };

  test.each([
    ["x >= 5", "a.x 5"],
    ["x <= -5", "a.x -5"],
    // Of two as near the one above 0.
    ["x^2 >= 4", "a.x 2"],
    ["abs(x) >= 3", "a.x 3"],
    ["x - 20 >= -12", "a.x 8"],
  ])("%s", (claim, change) => {
    expect(offered("", claim)).toEqual([[change]]);
    expect(offered("range -10..10", claim)).toEqual([[change]]);
  });

  test("two of them together", () => {
    const both = (claim: string): (readonly string[])[] =>
      analyzed(`kind spot { x: number\ny: number\ncheck "c": ${claim} }\nspot a { x: 0\ny: 0 }`)
        .checks[0]!.fits()
        .map(({ offers }) => offers.map(({ path, shown }) => `${path} ${shown}`));
    expect(both("min(x, y) >= 6")).toEqual([["a.x 10", "a.y 10"]]);
    expect(both("x * y >= 90")).toEqual([["a.x 10", "a.y 10"]]);
  });

  test("within its range, and not beyond", () => {
    expect(offered("range 0..10", "x <= -5")).toEqual([]);
    expect(offered("range 0..10", "x >= 11")).toEqual([]);
    expect(offered("range 0..10", "x >= 10")).toEqual([["a.x 10"]]);
  });
});
