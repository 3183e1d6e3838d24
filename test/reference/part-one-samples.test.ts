/** The builds that come with Trammel, against the same figures worked by hand here. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import type { FileHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { answers, inch, millimeter, pound, type Solved } from "./solve-text";

const samples = join(import.meta.dirname, "../../samples");
const disk: FileHost = {
  read(uri) {
    const path = fileURLToPath(uri);
    return existsSync(path) ? { text: readFileSync(path, "utf8") } : { problem: "missing" };
  },
};
const library = loadLibrary(libraryFiles());

function sample(path: string): Solved {
  const analysis = new Analyzer(disk, library).analyze(pathToFileURL(join(samples, path)).href);
  if (analysis === undefined) throw new Error(`${path} could not be read`);
  return answers(analysis);
}

describe.each(["harbor-van/build.trammel", "alder-truck/build.trammel"])("%s", (path) => {
  const build = sample(path);

  test("reads without a finding", () => {
    const findings = build.analysis.findings.map(
      (finding) => `${finding.code}: ${finding.message}`,
    );
    expect(findings).toEqual([]);
  });

  test("answers whatever it asks, in every option and as built", () => {
    const all = [build.analysis, build.analysis.asBuilt()];
    for (const { name } of build.analysis.options) {
      const option = build.analysis.under(name);
      if (option === undefined) expect.fail(`option ${name} is not there`);
      all.push(option);
    }
    for (const analysis of all) {
      expect(analysis.asked.length).toBeGreaterThan(15);
      expect(
        analysis.asked.filter(({ value }) => value.si === undefined).map(({ value }) => value.path),
      ).toEqual([]);
    }
  });

  test("holds every check it can judge, at worst case too", () => {
    const judged = build.analysis.checks.filter((check) => check.verdict.nominal !== "unknown");
    expect(judged.length).toBeGreaterThan(40);
    expect(
      judged.filter((check) => check.verdict.worst !== "holds").map((check) => check.title),
    ).toEqual([]);
  });
});

// Geometry worked by hand from the givens of the file; the width on the rim is UN R30 6.1.1.1.
describe("harbor van", () => {
  const build = sample("harbor-van/build.trammel");
  // 255/60R17 on an 8 in rim, measured on 7 1/2 in: 255 + 0.4 * 12.7 = 260.08 mm.
  const width = 260.08 * millimeter;
  const stack = 2.69 * inch;
  const half = (limit: number): number => (limit + 1) * inch + width / 2 + 12 * millimeter - stack;
  const faces = half(23.5) + half(23.375);

  test("housing width, marks and shafts", () => {
    expect(build.figure("rear_housing.face_to_face")).toBeCloseTo(faces, 9);
    expect(build.figure("rear.left.tape_reading")).toBeCloseTo(
      half(23.5) - (2.125 + 3 / 32) * inch + inch,
      9,
    );
    expect(build.figure("rear.left.shaft_length")).toBeCloseTo(
      half(23.5) + (2.38 + 1.125 - 0.5625) * inch,
      9,
    );
    expect(build.figure("rear.right.shaft_length")).toBeCloseTo(
      half(23.375) + (2.38 - 1.125 - 0.5625) * inch,
      9,
    );
    expect(build.analysis.write(build.analysis.values.get("rear_housing.face_to_face")!)).toBe(
      "54 11/16 in",
    );
  });

  test("the housing width is as sure as the limits, the standoffs and the hats together", () => {
    expect(build.worst("rear_housing.face_to_face") / inch).toBeCloseTo(
      2 * (1 / 16 + 0.008 + 0.006),
      6,
    );
  });

  test("the record after welding lies within the spec's tolerance", () => {
    const built = answers(build.analysis.asBuilt());
    expect(built.standing("rear_housing.face_to_face")).toBe("measured");
    expect(built.figure("rear_housing.face_to_face") / inch).toBeCloseTo(54.6875, 9);
  });

  test("the bolt-in axle takes its wheels' offset and leaves the tires where they are", () => {
    const option = build.analysis.under("bolt_in");
    if (option === undefined) expect.fail("the option is not there");
    const bolted = answers(option);
    const narrower = (faces - 53.875 * inch) / 2;
    expect(bolted.figure("rear_wheel.offset")).toBeCloseTo(12 * millimeter - narrower, 9);
    expect(bolted.figure("rear_wheel.backspace")).toBeCloseTo(
      4.5 * inch + 12 * millimeter - narrower,
      9,
    );
    for (const path of ["rear.track", "rear.left.outer_gap", "rear.right.outer_gap"]) {
      expect(bolted.figure(path)).toBeCloseTo(build.figure(path), 9);
    }
    expect(bolted.errors()).toEqual([]);
  });

  test("the decision in money", () => {
    const option = build.analysis.under("bolt_in");
    if (option === undefined) expect.fail("the option is not there");
    const brakes = 2 * 178;
    const tires = 2 * 164;
    const oil = 3 * 15;
    const cut = tires + 2 * 138 + brakes + 465 + 585 + 2 * 232 + 2 * 54 + oil;
    expect(build.figure("costs.total")).toBeCloseTo(cut + 14 * 92, 6);
    const bought = tires + 2 * 365 + brakes + 1280 + oil;
    expect(answers(option).figure("costs.total")).toBeCloseTo(bought + 6 * 92, 6);
  });

  test("axle load and what the tires make of it", () => {
    expect(build.figure("rear.load") / pound).toBeCloseTo(4080 * 0.46, 6);
    expect(build.figure("rear.fit.load_share")).toBeCloseTo((4080 * 0.46 * pound) / 2 / 950, 9);
  });
});

describe("alder truck", () => {
  const build = sample("alder-truck/build.trammel");

  test("one objection in the file that shows one", () => {
    const tight = sample("alder-truck/tight.trammel");
    expect(tight.errors()).toHaveLength(1);
    expect(tight.analysis.findings).toHaveLength(1);
    expect(tight.analysis.findings[0]?.code).toBe("clearance/inner-gap");
    // 255 mm is what this size measures on a rim of 7 in.
    const sidewall = 1330 / 2 + 66 + 7.2 - 8 - 255 / 2;
    expect(tight.figure("rear.left.inner_gap") / millimeter).toBeCloseTo(sidewall - 582, 9);
    expect(tight.figure("rear.right.inner_gap") / millimeter).toBeCloseTo(sidewall - 590, 9);
  });

  test("the housing follows from the mounting faces, centered by assumption", () => {
    expect(build.figure("rear_housing.face_to_face") / millimeter).toBeCloseTo(
      1486 - 2 * (66 + 7.2),
      9,
    );
    expect(build.standing("rear_housing.face_to_face")).toBe("solved");
    expect(build.figure("rear.track") / millimeter).toBeCloseTo(1486 - 16, 9);
    expect(build.analysis.values.get("rear.left.shaft_length")?.restsOn.join()).toContain(
      "centered",
    );
  });

  test("a carrier to the left shortens the left shaft", () => {
    const straight = 1339.6 / 2 + 66 - 12;
    expect(build.figure("rear.left.shaft_length") / millimeter).toBeCloseTo(straight - 32, 9);
    expect(build.figure("rear.right.shaft_length") / millimeter).toBeCloseTo(straight + 32, 9);
  });
});
