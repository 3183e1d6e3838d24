/** What is drawn over a range, as tables and as data, against figures worked out by hand. */
import { describe, expect, test } from "vitest";
import { repository, workshop } from "./workshop";

interface Drawn {
  curves: {
    path: string;
    title: string;
    parameter: { name: string; unit: string };
    unit: string;
    source?: string;
    points: { x: number; y: number }[];
  }[];
}

const build = `display { length: in 1/32; force: lbf }
kind rod "Rod" {
  length: length "How long it is"
  weight: force "What it weighs"
  curve pull "Pull at the end": weight * x / length over x from 0 in to length step 6 in
    source "lever"
  curve lean "Cosine of the lean": cos(g) over g from 0 deg to 60 deg step 30 deg
  curve gone "Nothing below two": if s > 2 then s else 1 / 0 over s from 1 to 4 step 1
}
rod long "The long one" { length: 12 in; weight: 100 lbf }
rod open { length: 12 in }
`;

describe("curve", () => {
  const shop = workshop({
    "build.trammel": build,
    "plain.trammel": "tire t { size: 205/55R16 }\n",
  });

  test("a table has the parameter and the value in the units of the build", async () => {
    const { code, out } = await shop.trammel("curve", "build.trammel", "long.pull");
    expect(code).toBe(0);
    expect(out).toBe(`long.pull  Pull at the end
  of The long one

  x (in)  pull (lbf)
       0           0
       6          50
      12         100

  source: lever
`);
  });

  test("angles are angles, plain numbers have no unit, and a reader may want other units", async () => {
    const { out } = await shop.trammel("curve", "build.trammel", "long", "--units", "metric");
    // cos 0, 30, 60 degrees: 1, sqrt(3) / 2, 1 / 2.
    expect(out).toContain(
      "  g (deg)   lean\n        0  1.000\n       30  0.866\n       60  0.500\n",
    );
    // 1 in = 25.4 mm, 100 lbf = 444.82216 N (NIST SP 811).
    expect(out).toContain("  x (mm)  pull (N)\n     0.0      0.00\n");
    expect(out).toContain("\n   304.8    444.82\n");
    expect(out).toMatch(/\n +s {2}gone\n +3 +3\n +4 +4\n/);
  });

  test("as data all is in SI", async () => {
    const { out } = await shop.trammel("curve", "build.trammel", "pull", "--format", "json");
    const { curves }: Drawn = JSON.parse(out);
    expect(curves.map(({ path }) => path)).toEqual(["long.pull", "open.pull"]);
    expect(curves[0]).toMatchObject({
      title: "Pull at the end",
      parameter: { name: "x", unit: "m" },
      unit: "N",
      source: "lever",
    });
    const [, half] = curves[0]?.points ?? [];
    expect(half?.x).toBeCloseTo(0.1524, 12);
    // Half of 100 lbf; 1 lbf = 4.4482216152605 N (NIST SP 811).
    expect(half?.y).toBeCloseTo(222.411080763025, 8);
    expect(curves[1]?.points).toEqual([]);
  });

  test("without a name there is a list, and what has no points says so", async () => {
    const { out } = await shop.trammel("curve", "build.trammel");
    expect(out).toMatch(/long\.pull +Pull at the end +over x +3 points\n/);
    expect(out).toMatch(/open\.pull +Pull at the end +over x +open\n/);
    const open = await shop.trammel("curve", "build.trammel", "open.pull");
    expect(open.out).toContain("no points: what it is made of is open");
    const all = await shop.trammel("curve", "build.trammel", "--all");
    expect(all.out.match(/ \(lbf\)/g)?.length).toBe(1);
    expect(all.out.match(/ \(deg\)/g)?.length).toBe(2);
  });

  test("a name that is none, and a build that draws nothing", async () => {
    const wrong = await shop.trammel("curve", "build.trammel", "long.pul");
    expect(wrong).toMatchObject({ code: 2, out: "" });
    expect(wrong.log).toContain("there is no curve called long.pul, did you mean long.pull?");
    const none = await shop.trammel("curve", "plain.trammel");
    expect(none).toMatchObject({ code: 0 });
    expect(none.out).toContain("draws nothing");
    expect(await shop.trammel("curve", "plain.trammel", "speed")).toMatchObject({ code: 2 });
  });

  test("the van's speeds over its engine's", async () => {
    const { out } = await repository.trammel(
      "curve",
      "samples/harbor-van/running-gear.trammel",
      "overdrive_box",
      "--format",
      "json",
    );
    const { curves }: Drawn = JSON.parse(out);
    const speeds = curves.filter(({ path }) => path.endsWith(".speed"));
    expect(speeds.length).toBe(4);
    for (const { points, parameter } of speeds) {
      expect(parameter).toEqual({ name: "n", unit: "rad/s" });
      // Speed is in proportion to engine speed in every gear.
      for (const { x, y } of points)
        expect(y / x).toBeCloseTo((points[0]?.y ?? 0) / (points[0]?.x ?? 1), 9);
    }
    const tops = speeds.map(({ points }) => points.at(-1)?.y ?? 0);
    expect([...tops].sort((one, other) => one - other)).toEqual(tops);
  });
});
