/** What is drawn stands where the solved values say, read back out of the SVG at its scale. */
import { describe, expect, test } from "vitest";
import { standalone } from "../../server/drafting";
import { drawPicture } from "../../server/pictures";
import { analysisOf, builds } from "./builds";
import { elementsOf, measuredLength, partOf } from "./read-back";

/** mm of the part. */
const allowed = 0.01;

const known = ["ordinary", "wide", "narrow", "lopsided", "metric", "touching"];

const looks = known.flatMap((name) =>
  (["comes out", "drawn"] as const).map((reckoning) => ({ name, reckoning })),
);

describe.each(looks)("the axle of the $name build, $reckoning", ({ name, reckoning }) => {
  const analysis = analysisOf(builds[name] ?? "");
  const drawing = drawPicture(analysis, "rear", { reckoning })!;
  const svg = standalone(drawing);
  const scale = drawing.scale.paper;
  const mm = (path: string): number => {
    const value = analysis.valueAt(path);
    const si = reckoning === "drawn" ? value?.si : value?.outcome()?.si;
    return (si ?? Number.NaN) * 1000;
  };

  test("stands at its solved places to 0.01 mm", () => {
    for (const [side, sign] of [
      ["left", -1],
      ["right", 1],
    ] as const) {
      const corner = `rear.${side}`;
      const tire = partOf(svg, `${corner} tire`).xs.map((x) => (sign * x) / scale);
      expect(Math.abs(Math.min(...tire) - mm(`${corner}.inner_sidewall`))).toBeLessThan(allowed);
      expect(Math.abs(Math.max(...tire) - mm(`${corner}.outer_sidewall`))).toBeLessThan(allowed);
      for (const [part, value] of [
        [`${corner} saw line`, mm(`${corner}.tube_mark`)],
        [`${corner} tire center`, mm(`${corner}.tire_center`)],
        [`${corner} wheel face`, mm(`${corner}.mount_face`) + mm(`${corner}.spacer`)],
        [`${corner} inner limit`, mm(`${corner}.inner_limit`)],
        [`${corner} outer limit`, mm(`${corner}.outer_limit`)],
      ] as const)
        for (const x of partOf(svg, part).xs)
          expect({ part, off: Math.abs((sign * x) / scale - value) < allowed }).toEqual({
            part,
            off: true,
          });
    }
    const tall = partOf(svg, "rear.left tire").ys;
    const diameter = (Math.max(...tall) - Math.min(...tall)) / scale;
    expect(Math.abs(diameter - mm("shoe.overall_diameter"))).toBeLessThan(allowed);
  });

  test("has dimension lines as long as their figures", () => {
    const told = drawing.readings.filter(({ known: settled }) => settled);
    let compared = 0;
    for (const { path } of told) {
      const length = measuredLength(svg, path);
      if (length === undefined) continue;
      expect({ path, off: Math.abs(length / scale - Math.abs(mm(path))) < allowed }).toEqual({
        path,
        off: true,
      });
      compared++;
    }
    expect(compared).toBeGreaterThan(12);
  });
});

test("the saw marks stand on the tape where it reads them", () => {
  const analysis = analysisOf(builds.ordinary ?? "");
  const drawing = drawPicture(analysis, "rear/saw")!;
  const svg = standalone(drawing);
  for (const side of ["left", "right"]) {
    const mark = analysis.valueAt(`rear.${side}.tube_mark`)?.outcome()?.si ?? Number.NaN;
    for (const part of [`rear.${side} saw line`, `rear.${side} tape at the saw line`])
      for (const x of partOf(svg, part).xs)
        expect(Math.abs(x / drawing.scale.paper - mark * 1000)).toBeLessThan(allowed);
  }
});

describe("what is not known", () => {
  const analysis = analysisOf(builds["half missing"] ?? "");
  const drawing = drawPicture(analysis, "rear")!;
  const svg = standalone(drawing);

  test("is dashed", () => {
    for (const part of ["rear.left tire", "rear.right tire", "rear.left housing end"])
      expect(partOf(svg, part).attributes.class).toBe("unknown");
    expect(partOf(svg, "rear.left inner limit").attributes.class).toBe("outline");
  });

  test("is named, and its dimensions say so", () => {
    const missing = drawing.missing.map(({ path }) => path);
    expect(missing).toContain("rear.left.tube_mark");
    expect(missing).toContain("rear.right.inner_limit");
    const groups = elementsOf(svg).filter(
      ({ tag, attributes }) => tag === "g" && missing.includes(attributes["data-path"] ?? ""),
    );
    expect(groups.length).toBeGreaterThan(5);
    for (const { attributes } of groups) expect(attributes.class).toContain("missing");
    expect(svg).toContain("not known yet");
  });

  test("stands for no figure: a limit nobody gave is not drawn", () => {
    expect(() => partOf(svg, "rear.right inner limit")).toThrow();
  });
});

test("the spline is as long as the shaft's, from its tip, and the caliper reaches as far as the brake's", () => {
  const analysis = analysisOf(
    `${builds.ordinary ?? ""}\nshaft half_shaft { spline_length: 2 1/4 in }\nrear.left.shaft: half_shaft\n`,
  );
  const drawing = drawPicture(analysis, "rear")!;
  const svg = standalone(drawing);
  const mm = (path: string): number => (analysis.valueAt(path)?.outcome()?.si ?? Number.NaN) * 1000;
  const tip = mm("rear.left.shaft_length") - mm("rear.left.half") - mm("tube.standoff");
  const at = partOf(svg, "rear.left spline").xs.map((x) => x / drawing.scale.paper);
  expect(Math.abs(Math.max(...at) - tip)).toBeLessThan(allowed);
  expect(Math.abs(Math.max(...at) - Math.min(...at) - mm("half_shaft.spline_length"))).toBeLessThan(
    allowed,
  );
  const caliper = partOf(svg, "rear.right caliper").ys.map((y) => y / drawing.scale.paper);
  expect(Math.abs(-Math.min(...caliper) - mm("disc.caliper_radius"))).toBeLessThan(allowed);
});

test("a shaft in two pieces runs on from the support bearing, in both planes", () => {
  const analysis = analysisOf(builds["two pieces"] ?? "");
  const drawing = drawPicture(analysis, "rear_piece")!;
  const svg = standalone(drawing);
  const scale = drawing.scale.paper;
  const mm = (path: string): number => (analysis.valueAt(path)?.outcome()?.si ?? Number.NaN) * 1000;
  const ends = (part: string) => {
    const { xs, ys } = partOf(svg, part);
    return { xs: xs.map((x) => x / scale), ys: ys.map((y) => y / scale) };
  };
  const sides = ["front_piece", "rear_piece"].map((piece) => ({
    run: mm(`${piece}.run`),
    drop: mm(`${piece}.drop`),
    right: mm(`${piece}.side`),
  }));
  for (const [index, called] of ["Front piece", "Rear piece"].entries()) {
    const { run, drop, right } = sides[index]!;
    const before = sides.slice(0, index).reduce((sum, each) => sum + each.run, 0);
    const side = ends(`${called}, shaft, side view, axis`);
    expect(Math.abs(side.xs[0]! - before)).toBeLessThan(allowed);
    expect(Math.abs(side.xs[1]! - before - run)).toBeLessThan(allowed);
    expect(Math.abs(Math.abs(side.ys[1]! - side.ys[0]!) - drop)).toBeLessThan(allowed);
    const plan = ends(`${called}, shaft, plan, axis`);
    // Down is positive on paper, and the vehicle's right is up.
    expect(Math.abs(plan.ys[0]! - plan.ys[1]! - right)).toBeLessThan(allowed);
  }
  const pinion = ends("pinion, plan");
  const slope = (pinion.ys[0]! - pinion.ys[1]!) / (pinion.xs[1]! - pinion.xs[0]!);
  expect(slope).toBeCloseTo(Math.tan((1.5 * Math.PI) / 180), 4);
  expect(svg).toContain("support bearing");
});

test("bearing and rotor of a wheel end stand where the build says, and are dashed where it does not", () => {
  const analysis = analysisOf(builds["whole wheel end"] ?? "");
  const drawing = drawPicture(analysis, "rear.left/section")!;
  const svg = standalone(drawing);
  const mm = (path: string): number => (analysis.valueAt(path)?.outcome()?.si ?? Number.NaN) * 1000;
  const flange = mm("rear.left.half") + mm("tube.standoff");
  const [bearing] = partOf(svg, "outer face of the bearing").xs;
  expect(
    Math.abs(bearing! / drawing.scale.paper - (flange - mm("end.press_distance"))),
  ).toBeLessThan(allowed);
  const rotor = partOf(svg, "rotor");
  const middle = (Math.max(...rotor.xs) + Math.min(...rotor.xs)) / 2 / drawing.scale.paper;
  expect(Math.abs(middle - (flange - mm("disc.rotor_inset")))).toBeLessThan(allowed);
  expect(rotor.attributes.class).toBe("outline");
  const without = standalone(drawPicture(analysisOf(builds.ordinary ?? ""), "rear.left/section")!);
  expect(partOf(without, "rotor").attributes.class).toBe("unknown");
});

test("the links' lines meet where the line from the contact rises as solved", () => {
  const analysis = analysisOf(builds.links ?? "");
  const drawing = drawPicture(analysis, "arms")!;
  const svg = standalone(drawing);
  const scale = drawing.scale.paper;
  const mm = (field: string): number => (analysis.valueAt(`arms.${field}`)?.si ?? 0) * 1000;
  const link = partOf(svg, "upper link");
  expect(-Math.min(...link.xs) / scale).toBeCloseTo(mm("upper_front_forward"), 1);
  expect(-Math.min(...link.ys) / scale).toBeCloseTo(mm("upper_rear_up"), 1);
  const { xs, ys } = partOf(svg, "line to the instant center");
  const [x1 = 0, x2 = 0] = xs;
  const [y1 = 0, y2 = 0] = ys;
  const slope = analysis.valueAt("arms.squat_slope")?.si ?? Number.NaN;
  expect((y2 - y1) / (x2 - x1)).toBeCloseTo(slope, 4);
});
