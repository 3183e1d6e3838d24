/**
 * One chain of lengths, asked in every direction.
 *
 * The figures are worked by hand from the width chain of the design: 275/50R17 on a 9 in rim (its
 * measuring rim is 8.5 in) is 275 mm + 0.4 * (228.6 mm - 215.9 mm) = 280.08 mm wide; left of the
 * center 628.65 mm + 22.225 mm + 140.04 mm = 790.915 mm to the tire center, + 18 mm offset to the
 * mounting face, - 63.5 mm - 7.366 mm = 738.0490 mm half; right 736.4615 mm.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Analysis, Value } from "../../server/analysis/analysis";
import { analyzed } from "./build";
import { flawsOf } from "./everything";
import { golden } from "./golden";

const things = `tire t { size: 275/50R17 }
wheel w { size: 17x9 }
brake b { }
housing h { }
axle rear { wheel: w tire: t brake: b housing: h }
`;

const limits = {
  "b.hat_thickness": "0.290 in",
  "h.standoff": "2.500 in",
  "rear.left.inner_limit": "24 3/4 in",
  "rear.right.inner_limit": "24 11/16 in",
};
const wheel = { "w.offset": "18 mm" };
/** Read off the mock-up: then they hold, and do not give way to a housing. */
const measured = {
  "rear.left.inner_gap": "7/8 in measured",
  "rear.right.inner_gap": "7/8 in measured",
};
const gaps = { "rear.left.inner_gap": "7/8 in", "rear.right.inner_gap": "7/8 in" };

function build(...givens: readonly Readonly<Record<string, string>>[]): string {
  const lines = Object.entries(Object.assign({}, ...givens) as Record<string, string>);
  return `${things}${lines.map(([path, value]) => `${path}: ${value}\n`).join("")}`;
}

function millimeters(analysis: Analysis, path: string): number {
  expect(flawsOf(analysis)).toEqual([]);
  return (analysis.valueAt(path)?.si ?? Number.NaN) * 1000;
}

describe("a width chain in all directions", () => {
  test("the gaps and the body's limits give the housing", () => {
    const analysis = analyzed(build(limits, wheel, gaps));
    expect(millimeters(analysis, "h.face_to_face")).toBeCloseTo(1474.5105, 6);
    expect(millimeters(analysis, "rear.left.half")).toBeCloseTo(738.049, 6);
    expect(millimeters(analysis, "rear.right.half")).toBeCloseTo(736.4615, 6);
    expect(analysis.valueAt("rear.housing.face_to_face")).toBe(analysis.valueAt("h.face_to_face"));
    expect(analysis.valueAt("h.face_to_face")?.standing).toBe("solved");
  });

  test("the housing gives the gaps, centered, and says so", () => {
    const analysis = analyzed(build(limits, wheel, { "h.face_to_face": "1474.5105 mm" }));
    // Half of it on each side: 0.79375 mm less than the left half above, as much more on the right.
    expect(millimeters(analysis, "rear.left.inner_gap")).toBeCloseTo(22.225 - 0.79375, 6);
    expect(millimeters(analysis, "rear.right.inner_gap")).toBeCloseTo(22.225 + 0.79375, 6);
    expect(analysis.valueAt("rear.left.inner_gap")?.standing).toBe("solved");
    expect(analysis.valueAt("rear.left.inner_gap")?.restsOn).toContain(
      "the housing is centered: both sides are cut alike",
    );
  });

  test("housing and gaps give the wheel's offset", () => {
    const analysis = analyzed(build(limits, gaps, { "h.face_to_face": "1474.5105 mm" }));
    expect(millimeters(analysis, "w.offset")).toBeCloseTo(18, 6);
    expect(analysis.valueAt("w.offset")?.standing).toBe("solved");
    // Both sides are pinned by the gaps: nothing is left to be centered.
    expect(analysis.valueAt("w.offset")?.restsOn.join()).not.toContain("centered");
  });

  test("all of it agrees", () => {
    const analysis = analyzed(build(limits, wheel, measured, { "h.face_to_face": "1474.51 mm" }));
    expect(
      golden(build(limits, wheel, measured, { "h.face_to_face": "1474.51 mm" }), {
        only: "conflict",
      }),
    ).toBe("");
    expect(millimeters(analysis, "rear.left.half")).toBeCloseTo(738.049, 6);
  });

  test("all of it disagrees: one change of each given mends it", () => {
    const text = build(limits, wheel, measured, { "h.face_to_face": "1450 mm" });
    const analysis = analyzed(text);
    const conflicts = analysis.findings.filter(({ code }) => code === "conflict/givens");
    expect(conflicts).toHaveLength(1);
    expect(conflicts[0]?.hint).toContain("h.face_to_face would have to be 1475 mm");
    // 24.5105 mm are missing: the housing would be 1474.5105 mm (58.052 in); the offset counts on
    // both sides, so 12.255 mm less of it would do: 5.745 mm (0.226 in).
    expect(conflicts[0]?.hint).toContain("w.offset would have to be 5.745 mm");
    expect(conflicts[0]?.furtherFixes?.().length).toBeGreaterThanOrEqual(4);
    // Applying each fix leaves no contradiction: `golden` throws where one does.
    expect(golden(text, { only: "conflict" })).toMatchInlineSnapshot(`
      "13:17 error conflict/givens \`1450 mm\`
        these cannot all hold by “housing halves”: b.hat_thickness 0.290 in, h.face_to_face 1450 mm, h.standoff 2.500 in, rear.left.inner_gap 0.875 in, rear.left.inner_limit 24.750 in, rear.right.inner_gap 0.875 in, rear.right.inner_limit 24.688 in, t.size.aspect 0.5, t.size.width 10.827 in, w.offset 18 mm, w.size.width 9 in, rear.left.spacer 0 in (assumed) and rear.right.spacer 0 in (assumed); they miss by 0.965 in
        hint change one: h.face_to_face would have to be 1475 mm, b.hat_thickness would have to be 0.772 in (another part), h.standoff would have to be 2.982 in (another part), w.offset would have to be 5.745 mm (another part), ask for rear.left.spacer: write \`rear.left.spacer: ?\`, ask for rear.right.spacer: write \`rear.right.spacer: ?\` or measure rear.left.inner_gap, rear.left.inner_limit, rear.right.inner_gap or rear.right.inner_limit again
        see 6:18 b.hat_thickness is given here
        see 7:13 h.standoff is given here
        see 11:22 rear.left.inner_gap is given here
        see 8:24 rear.left.inner_limit is given here
        see 12:23 rear.right.inner_gap is given here
        see 9:25 rear.right.inner_limit is given here
        see 1:16 t.size.aspect is given here
        see 1:16 t.size.width is given here
        see 10:11 w.offset is given here
        see 2:17 w.size.width is given here
        fix set h.face_to_face to 1475 mm: h.face_to_face: 1475 mm
        fix set b.hat_thickness to 0.772 in: b.hat_thickness: 0.772 in
        fix set h.standoff to 2.982 in: h.standoff: 2.982 in
        fix set w.offset to 5.745 mm: w.offset: 5.745 mm"
    `);
  });

  test("a contradiction across files and under an option", () => {
    const across = `//- build.trammel\nuse "parts.trammel"\naxle rear { wheel: w tire: t brake: b housing: h }\n${Object.entries(
      { ...limits, ...measured },
    )
      .filter(([path]) => path.startsWith("rear"))
      .map(([path, value]) => `${path}: ${value}\n`)
      .join(
        "",
      )}option narrow "Narrow housing" { h.face_to_face: 1450 mm }\noption fitting { h.face_to_face: 1474.51 mm }\n//- parts.trammel\ntire t { size: 275/50R17 }\nwheel w { size: 17x9 offset: 18 mm }\nbrake b { hat_thickness: 0.290 in }\nhousing h { standoff: 2.500 in }\n`;
    expect(
      golden(across, { only: "conflict", view: (analysis) => analysis.under("fitting") }),
    ).toBe("");
    const conflict = analyzed(across)
      .under("narrow")
      ?.findings.filter(({ code }) => code === "conflict/givens");
    expect(conflict).toHaveLength(1);
    const files = new Set([
      conflict?.[0]?.anchor.uri,
      ...(conflict?.[0]?.related ?? []).map(({ anchor }) => anchor.uri),
    ]);
    expect([...files].sort()).toEqual(["file:///shop/build.trammel", "file:///shop/parts.trammel"]);
    expect(
      golden(across, { only: "conflict", view: (analysis) => analysis.under("narrow") }),
    ).toContain("w.offset would have to be 5.745 mm");
  });

  test("the mount width alone gives a centered axle, and says so", () => {
    const analysis = analyzed("axle rear { mount_width: 61 3/8 in left { mount_face: ? } }");
    expect(millimeters(analysis, "rear.left.mount_face")).toBeCloseTo(779.4625, 6);
    expect(analysis.valueAt("rear.left.mount_face")?.restsOn).toContain(
      "the mounting faces are centered on the housing",
    );
  });
});

describe("swapping a given with what is solved from it", () => {
  const base: Readonly<Record<string, string>> = {
    ...limits,
    ...wheel,
    ...gaps,
    "w.flange": "13 mm",
    "rear.left.outer_limit": "37 7/8 in",
    "rear.right.outer_limit": "37 3/4 in",
    "rear.left.spacer": "5 mm",
    "rear.right.spacer": "3 mm",
    "h.end_length": "2 in",
    "h.root_gap": "1/16 in",
    "h.burn": "1 in",
  };
  const trigonometry = `kind strut "Strut" {
  rise: length range 1 mm..5 m bought
  run: length range 1 mm..5 m bought
  long: length range 1 mm..10 m
  lean: angle range 1 deg..89 deg
  wall: length range 0.5 mm..20 mm
  width: length range 2 mm..200 mm
  metal: area range 1 mm^2..10000 mm^2
  volume: volume range 1 mm^3..1 m^3
  relation "length": long ^ 2 = rise ^ 2 + run ^ 2
  relation "lean": tan(lean) = rise / run
  relation "metal": metal = width ^ 2 - (width - 2 * wall) ^ 2
  relation "volume": volume = metal * long
}
strut s { }
`;
  const struts: Readonly<Record<string, string>> = {
    "s.rise": "300 mm",
    "s.run": "412.5 mm",
    "s.width": "40 mm",
    "s.wall": "2.5 mm",
  };

  test.each([
    ["the width chain", things, base, 40],
    ["a leaning tube", trigonometry, struts, 60],
  ])("%s gives the same figures back to nine digits", (_, head, givens, runs) => {
    const text = (lines: Readonly<Record<string, string>>): string =>
      `${head}${Object.entries(lines)
        .map(([path, value]) => `${path}: ${value}\n`)
        .join("")}`;
    const first = analyzed(text(givens));
    const known = new Map(
      [...first.values].flatMap(([path, { si, measure }]) =>
        si === undefined || measure === undefined ? [] : [[path, { si, measure }] as const],
      ),
    );
    let swaps = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(1000), fc.nat(1000)), { minLength: 1, maxLength: 5 }),
        (picks) => {
          let lines: Record<string, string> = { ...givens };
          for (const [out, into] of picks) {
            const analysis = analyzed(text(lines));
            const paths = Object.keys(lines).filter((path) => lines[path] !== "?");
            const dropped = paths[out % paths.length] ?? "";
            const candidates = followersOf(analysis, text(lines), dropped);
            const taken = candidates[into % Math.max(1, candidates.length)];
            if (taken?.si === undefined || taken.measure === undefined) continue;
            lines = {
              ...lines,
              [dropped]: "?",
              [taken.path]: `${taken.si}${siUnits[taken.measure.si] ?? ""}`,
            };
            swaps++;
          }
          const analysis = analyzed(text(lines));
          expect(
            analysis.findings
              .filter(({ code }) => /^(conflict|solve)/.test(code))
              .map(({ message }) => message),
          ).toEqual([]);
          for (const [path, { si }] of known) {
            const again = analysis.valueAt(path)?.si ?? Number.NaN;
            expect(
              Math.abs(again - si),
              `${path} with ${JSON.stringify(lines)}`,
            ).toBeLessThanOrEqual(1e-9 * Math.max(Math.abs(si), 1e-3));
          }
        },
      ),
      { numRuns: runs, seed: 7 },
    );
    expect(swaps).toBeGreaterThan(runs);
  });
});

const siUnits: Readonly<Record<string, string>> = {
  m: " m",
  "m^2": " m^2",
  "m^3": " m^3",
  rad: " rad",
};

/** The solved figures that follow a given: seen by moving it a little. */
function followersOf(analysis: Analysis, text: string, given: string): Value[] {
  const line = new RegExp(`^${given.replaceAll(".", "\\.")}: .*$`, "m").exec(text)?.[0];
  const { si, measure } = analysis.valueAt(given) ?? {};
  const unit = siUnits[measure?.si ?? ""];
  if (line === undefined || si === undefined || unit === undefined) return [];
  const step = 1e-4 * Math.max(Math.abs(si), 0.01);
  const moved = analyzed(text.replace(line, `${given}: ${si + step}${unit}`));
  return [...analysis.values.values()].filter((value) => {
    if (value.standing !== "solved" || !((value.measure?.si ?? "") in siUnits)) return false;
    const change = (moved.valueAt(value.path)?.si ?? Number.NaN) - (value.si ?? Number.NaN);
    return Math.abs(change) > 1e-3 * step * Math.max(1, Math.abs((value.si ?? 0) / si));
  });
}
