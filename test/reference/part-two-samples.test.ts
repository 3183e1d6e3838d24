/** Both builds use every subject of the second half, and their figures are what hand work gives. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import type { FileHost } from "../../server/analysis/host";
import { expectNear, library, si } from "./part-two-solve-text";

const samples = join(import.meta.dirname, "..", "..", "samples");

const disk: FileHost = {
  read(uri) {
    const path = fileURLToPath(uri);
    return existsSync(path) ? { text: readFileSync(path, "utf8") } : { problem: "missing" };
  },
};

function sample(path: string): Analysis {
  const analysis = new Analyzer(disk, library).analyze(pathToFileURL(join(samples, path)).href);
  if (analysis === undefined) throw new Error(`${path} cannot be read`);
  return analysis;
}

const van = sample("harbor-van/running-gear.trammel");
const truck = sample("alder-truck/running-gear.trammel");

const subjects = [
  "brake",
  "brake_system",
  "shim_kit",
  "caliper_fit",
  "caliper_mount",
  "gearbox",
  "gear",
  "engine",
  "driveshaft",
  "universal_joint",
  "spring",
];

describe.each([
  ["van", van],
  ["truck", truck],
] as const)("the %s", (_name, analysis) => {
  it("uses every subject", () => {
    const kinds = new Set(analysis.things.map((thing) => thing.kind.name));
    expect([...kinds]).toEqual(expect.arrayContaining(subjects));
    expect(
      [...kinds].some((kind) => library.vocabulary.kinds.get(kind)?.anchor.uri.includes("/rules/")),
    ).toBe(true);
  });

  it("stands without objection, under its options too", () => {
    const loud = analysis.findings.filter((finding) => finding.severity !== "note");
    expect(loud.map((finding) => `${finding.code}: ${finding.message}`)).toEqual([]);
    expect(analysis.options.length).toBeGreaterThan(0);
  });

  it("answers everything it asks, but what only an option asks for", () => {
    const open = analysis.asked
      .filter((asked) => asked.value.standing === "missing")
      .map((asked) => asked.value.path);
    expect(open).toEqual([]);
  });

  it("has points for every curve", () => {
    const ofOurs = analysis.curves.filter(
      (curve) =>
        subjects.includes(curve.thing?.kind.name ?? "") &&
        curve.thing?.kind.name !== "universal_joint",
    );
    expect(ofOurs.length).toBeGreaterThanOrEqual(11);
    for (const curve of ofOurs)
      expect(curve.points().length, `${curve.thing?.path} ${curve.name}`).toBeGreaterThan(5);
  });
});

describe("figures worked by hand", () => {
  it("the van's line pressure, bias and deceleration", () => {
    const area = (inches: number): number => (Math.PI / 4) * (inches * 0.0254) ** 2;
    const pressure = (280 * 4.4 * 2.2) / area(15 / 16);
    expectNear(si(van, "stopping.line_pressure"), pressure, 1e-9);
    const psi = 6894.757293168361;
    const behind = 430 * psi + 0.33 * (pressure - 430 * psi);
    expectNear(si(van, "stopping.rear_pressure"), behind, 1e-9);
    // Rolling circumference 3.05 D: 235/65R17 and 255/60R17 are both 738 mm over the tread.
    const radius = (diameter: number): number => (3.05 * diameter) / (2 * Math.PI);
    const front = (4 * 0.37 * pressure * 2 * area(1.69) * (11.8125 - 1.9) * 0.0127) / radius(0.738);
    const rear = (4 * 0.37 * behind * area(1.85) * (11.25 - 1.6) * 0.0127) / radius(0.738);
    expectNear(si(van, "stopping.front_bias"), front / (front + rear), 1e-9);
    expectNear(si(van, "stopping.deceleration"), (front + rear) / (4080 * 0.45359237), 1e-9);
  });

  it("the van's first caliper bolt: 0.026 in wanted, 0.018 + 0.007 taken, 0.001 left", () => {
    expectNear(si(van, "left_caliper.top.shim"), 0.026 * 0.0254, 1e-9);
    expectNear(si(van, "left_caliper.top.stack"), 0.025 * 0.0254, 1e-9);
    expectNear(si(van, "left_caliper.top.residual"), 0.001 * 0.0254, 1e-6);
  });

  it("the van's engine on a long run and the truck's speed in fourth", () => {
    const speed = 62 * 0.44704;
    expectNear(
      si(van, "overdrive_box.engine_speed"),
      (speed / (3.05 * 0.738)) * 2 * Math.PI * 0.72 * (39 / 11),
      1e-9,
    );
    // 225/75R16 is 744 mm over the tread.
    expectNear(si(truck, "box.speed"), ((2800 / 60) * 3.05 * 0.744) / (1.12 * 4.3), 1e-9);
  });

  it("the van's pinion is set so that both joints work alike", () => {
    expectNear(si(van, "shaft.front_angle"), si(van, "shaft.rear_angle"), 1e-9);
    expectNear((si(van, "shaft.pinion_setting") * 180) / Math.PI, 1, 1e-9);
  });
});
