/**
 * What a number means: a build as drawn and as it comes out, whatever is wanted, made or asked for.
 *
 * The arithmetic of each expectation is written beside it; the trade's figures are our own.
 */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { told } from "../../server/report/comes-out";
import { folder, library } from "../model/build";
import { stateOf } from "../model/state";
import { solved } from "../reference/solve-text";

const inch = 0.0254;

interface Side {
  readonly limit: string;
  readonly more?: string;
}

function build(
  left: Side,
  right: Side,
  { housing = "", axle = "", offset = "1/2 in" }: Record<string, string> = {},
): string {
  return `tire rear_tire { size: 255/60R16 }
wheel rear_wheel { size: 16x8  offset: 12 mm }
brake disc { hat_thickness: 0.310 in }
housing tube { standoff: 2.450 in ± 0.010 in  end_length: 1.75 in  ${housing} }
carrier center { offset: ${offset}  tip_setback: 3/16 in }
axle rear {
  wheel: rear_wheel  tire: rear_tire  brake: disc  housing: tube  carrier: center  ${axle}
  left { inner_limit: ${left.limit}  ${left.more ?? "inner_gap: 7/8 in"} }
  right { inner_limit: ${right.limit}  ${right.more ?? "inner_gap: 7/8 in"} }
}
`;
}

const near = { limit: "23 7/16 in ± 1/16 in" };
const far = { limit: "23 1/2 in ± 1/16 in" };

function comesOut(analysis: Analysis, path: string): number {
  return (analysis.valueAt(path)?.outcome()?.si ?? Number.NaN) / inch;
}

function drawn(analysis: Analysis, path: string): number {
  return (analysis.valueAt(path)?.si ?? Number.NaN) / inch;
}

const asked = ["tube_mark", "shaft_length", "cut_half", "inner_gap", "tip_setback"];

describe("as drawn and as it comes out", () => {
  test("saw lines on their step, and the gap says what that leaves", () => {
    const { analysis } = solved(build(far, near));
    // The drawn half width: 23.5 + 0.875 + half a tire, less hat, standoff, plus offset.
    const tire = (255 + 0.4 * (8 - 7.5) * 25.4) / 25.4;
    const half = 23.5 + 0.875 + tire / 2 + 12 / 25.4 - 0.31 - 2.45;
    expect(drawn(analysis, "rear.left.cut_half")).toBeCloseTo(half, 9);
    const mark = Math.round((half - 1.75) * 32) / 32;
    expect(comesOut(analysis, "rear.left.tube_mark")).toBeCloseTo(mark, 9);
    expect(comesOut(analysis, "rear.left.inner_gap")).toBeCloseTo(0.875 + mark - (half - 1.75), 9);
    expect(drawn(analysis, "rear.left.inner_gap")).toBeCloseTo(0.875, 12);
    // The tape on the spring and the saw both stand in the gap, and the tape is the larger.
    const gap = analysis.valueAt("rear.left.inner_gap")?.outcome();
    // limit 1/16, saw 1/32, standoff 0.010, housing set over 1/16.
    expect((gap?.worst ?? 0) / inch).toBeCloseTo(1 / 16 + 1 / 32 + 0.01 + 1 / 16, 3);
  });

  test("what is shown adds up, and shafts are cut to the housing as it is cut", () => {
    const { analysis } = solved(build(far, near));
    const out = (path: string): number => comesOut(analysis, path);
    expect(out("tube.face_to_face")).toBeCloseTo(
      out("rear.left.cut_half") + out("rear.right.cut_half"),
      9,
    );
    for (const [side, sign] of [
      ["left", 1],
      ["right", -1],
    ] as const) {
      const wanted = out(`rear.${side}.cut_half`) + 2.45 + sign * 0.5 - 3 / 16;
      expect(out(`rear.${side}.shaft_length`)).toBeCloseTo(Math.round(wanted * 32) / 32, 9);
      expect(out(`rear.${side}.tip_setback`)).toBeCloseTo(
        wanted + 3 / 16 - out(`rear.${side}.shaft_length`),
        9,
      );
    }
  });

  test("a mirrored build gives the mirrored answer", () => {
    for (const more of ["", "face_to_face: ? made", "face_to_face: 54 1/4 in"]) {
      const one = solved(build(far, near, { housing: more })).analysis;
      const other = solved(build(near, far, { housing: more, offset: "-1/2 in" })).analysis;
      for (const field of asked) {
        expect(comesOut(one, `rear.left.${field}`)).toBeCloseTo(
          comesOut(other, `rear.right.${field}`),
          9,
        );
        expect(comesOut(one, `rear.right.${field}`)).toBeCloseTo(
          comesOut(other, `rear.left.${field}`),
          9,
        );
      }
    }
  });

  test("asking for a figure changes none", () => {
    const plain = solved(build(far, near)).analysis;
    const more = ["tube_mark: ?", "shaft_length: ?", "cut_half: ?", "mount_face: ?"];
    for (const question of more) {
      const asking = { ...far, more: `inner_gap: 7/8 in  ${question}` };
      const { analysis } = solved(build(asking, near, { axle: "track: ?" }));
      for (const field of asked) {
        expect(comesOut(analysis, `rear.left.${field}`)).toBe(
          comesOut(plain, `rear.left.${field}`),
        );
        expect(drawn(analysis, `rear.right.${field}`)).toBe(drawn(plain, `rear.right.${field}`));
      }
    }
  });

  test("the order of lines changes nothing", () => {
    const text = build(far, near);
    const backwards = `${text.slice(text.indexOf("axle rear"))}${text.slice(0, text.indexOf("axle rear"))}`;
    const one = solved(text).analysis;
    const other = solved(backwards).analysis;
    for (const field of asked)
      expect(comesOut(one, `rear.left.${field}`)).toBe(comesOut(other, `rear.left.${field}`));
  });

  test("a housing ordered by its width is symmetrical, and both gaps share what is left", () => {
    const { analysis } = solved(build(far, near, { housing: "face_to_face: ? made" }));
    const width = comesOut(analysis, "tube.face_to_face");
    expect(width * 16).toBeCloseTo(Math.round(width * 16), 9);
    for (const side of ["left", "right"])
      expect(comesOut(analysis, `rear.${side}.cut_half`)).toBeCloseTo(width / 2, 9);
  });

  test("a housing set over stands where both gaps are as wanted", () => {
    const { analysis } = solved(build(far, near, { axle: "set_over: ?" }));
    // Half of the difference between the limits, to the left, where the wider limit is.
    expect(comesOut(analysis, "rear.set_over")).toBeCloseTo(-1 / 32, 9);
    expect(comesOut(analysis, "rear.left.cut_half")).toBeCloseTo(
      comesOut(analysis, "rear.right.cut_half"),
      9,
    );
  });

  test("wishes against a made width are told at the wish, and are no contradiction", () => {
    const { analysis, errors } = solved(
      build(far, far, { housing: "face_to_face: 54 1/2 in made" }),
    );
    expect(errors()).toEqual([]);
    const missed = analysis.findings.filter(({ code }) => code === "wanted/missed");
    expect(missed).toHaveLength(2);
    expect(missed[0]?.message).toContain("tube.face_to_face is 54 1/2 in (made)");
    expect(comesOut(analysis, "rear.left.inner_gap")).toBeCloseTo(
      comesOut(analysis, "rear.right.inner_gap"),
      9,
    );
  });

  test("one made figure that answers two wishes is told where it leaves either off by more than a step", () => {
    const missed = (one: Side, other: Side): string[] =>
      solved(build(one, other, { housing: "face_to_face: ? made" })).analysis.findings.flatMap(
        ({ code, message }) => (code === "wanted/missed" ? [message] : []),
      );
    expect(missed(far, far)).toEqual([]);
    const wide = { ...far, limit: "23 in ± 1/16 in" };
    const [message = ""] = missed(far, wide);
    expect(message).toContain("tube.face_to_face is");
    expect(message).toContain("and answers rear.right.inner_gap, too");
  });

  test("a wish turned into a measured value holds, whatever is made", () => {
    const read = { ...far, more: "inner_gap: 7/8 in measured" };
    const { analysis } = solved(build(read, near));
    expect(analysis.valueAt("rear.left.inner_gap")?.role).toBe("measured");
    expect(comesOut(analysis, "rear.left.inner_gap")).toBeCloseTo(0.875, 12);
    const back = solved(build(far, near)).analysis;
    expect(drawn(analysis, "tube.face_to_face")).toBeCloseTo(drawn(back, "tube.face_to_face"), 9);
  });

  test("a ± on a wish is what is accepted: within it nothing is said", () => {
    const wide = { ...far, more: "inner_gap: 7/8 in ± 1/8 in" };
    const tight = { ...far, more: "inner_gap: 7/8 in ± 0.005 in" };
    const codes = (side: Side): string[] =>
      solved(build(side, side))
        .analysis.findings.map(({ code }) => code)
        .filter((code) => code === "wanted/missed");
    expect(codes(wide)).toEqual([]);
    expect(codes(tight)).toEqual(["wanted/missed", "wanted/missed"]);
  });
});

/** A figure is made to the other side where a check that holds as drawn would fail by rounding alone. */
describe("rounding alone breaks no check", () => {
  const gap = { limit: "23 1/2 in", more: "inner_gap: 1/2 in" };
  const hats = Array.from({ length: 36 }, (_, at) => (0.29 + at / 1000).toFixed(3));
  const text = (hat: string, left: Side = gap, right: Side = gap): string =>
    build(left, right).replace("0.310 in", `${hat} in`);
  const failing = ({ checks }: Analysis): string[] =>
    checks.flatMap(({ title, verdict }) => (verdict.nominal === "fails" ? [title] : []));

  test("the saw line goes outward where inward the gap would be too small, and nowhere else", () => {
    const turned = hats.map((hat) => {
      const { analysis } = solved(text(hat));
      expect(failing(analysis), hat).toEqual([]);
      const mark = analysis.valueAt("rear.left.tube_mark");
      const [at, out] = [(mark?.si ?? 0) / inch, comesOut(analysis, "rear.left.tube_mark")];
      // On a step, the nearest but where that lies inward.
      const nearest = Math.round(at * 32) / 32;
      const outward = Math.ceil(at * 32 - 1e-6) / 32;
      expect(out, hat).toBeCloseTo(outward, 9);
      const other = Math.abs(nearest - outward) > 1e-9;
      expect(mark?.outcome()?.turned, hat).toBe(other);
      expect(mark && told(mark, analysis).why, hat).toBe(
        `answers rear.left.inner_gap${other ? ", rounded so that a check holds" : ""}`,
      );
      return other;
    });
    const count = turned.filter(Boolean).length;
    expect(count).toBeGreaterThan(10);
    expect(count).toBeLessThan(26);
  });

  test("where neither step will do it stays on the nearest", () => {
    // Both sides of the tire are wanted at the least there may be: a step takes from one or the other.
    const tire = (255 + 0.4 * (8 - 7.5) * 25.4) / 25.4;
    for (const hat of hats) {
      const tight = {
        limit: "23 1/2 in",
        more: `inner_gap: 1/2 in; outer_limit: ${(24.5 + tire).toFixed(9)} in`,
      };
      const { analysis } = solved(text(hat, tight, tight));
      const at = (analysis.valueAt("rear.left.tube_mark")?.si ?? 0) / inch;
      expect(comesOut(analysis, "rear.left.tube_mark"), hat).toBeCloseTo(
        Math.round(at * 32) / 32,
        9,
      );
    }
  });

  test("what a check of the builder's own asks for counts as well", () => {
    const wide = { limit: "23 1/2 in", more: "inner_gap: 7/8 in" };
    const own = (hat: string): string =>
      `${text(hat, wide, wide)}check "not wider": rear.left.inner_gap <= 7/8 in\n`;
    for (const hat of hats) {
      const { analysis } = solved(own(hat));
      expect(failing(analysis), hat).toEqual([]);
      expect(comesOut(analysis, "rear.left.inner_gap"), hat).toBeLessThanOrEqual(0.875 + 1e-9);
      // Of the other side nobody asks anything: the nearest step.
      const at = (analysis.valueAt("rear.right.tube_mark")?.si ?? 0) / inch;
      expect(comesOut(analysis, "rear.right.tube_mark"), hat).toBeCloseTo(
        Math.round(at * 32) / 32,
        9,
      );
    }
  });

  test("whatever is edited, it is what a reading from scratch says", () => {
    const root = `${folder}build.trammel`;
    const apart = 'check "not wider": rear.left.inner_gap <= 1 in\n';
    const texts = [
      ...hats.slice(0, 12).map((hat) => text(hat)),
      `${text("0.300")}${apart}`,
      `${text("0.300")}${apart.replace("1 in", "1/2 in")}`,
      `${text("0.300")}rear.left.wanted_gap: 3/8 in\n`,
      `${text("0.300")}rear.left.wanted_gap: 1/2 in\noption more { rear.left.wanted_gap: 0.48 in }\n`,
      text("0.300").replaceAll("1/2 in }", "9/16 in }"),
      text("0.300").replace("inner_gap: 1/2 in }", "inner_gap: 1/2 in measured }"),
      text("0.300"),
    ];
    const files = new Map([[root, ""]]);
    const host = memoryHost(files, [folder]);
    const analyzer = new Analyzer(host, library());
    const read = (by: Analyzer): readonly unknown[] => {
      const analysis = by.analyze(root);
      if (analysis === undefined) throw new Error("the root file is there");
      const views = [analysis, analysis.asBuilt(), analysis.under("more") ?? analysis];
      return views.map((each) => stateOf(each, true));
    };
    for (const [at, next] of texts.entries()) {
      files.set(root, next);
      expect(read(analyzer), `${at}`).toEqual(read(new Analyzer(host, library())));
    }
  });
});
