/** The builds that come with Trammel, against the same figures worked by hand here. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import { Analyser } from "../../server/analysis/analyser";
import type { FileHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { answers, inch, millimetre, pound, type Solved } from "./solve-text";

const samples = join(import.meta.dirname, "../../samples");
const disk: FileHost = {
  folders: [],
  read(uri) {
    const path = fileURLToPath(uri);
    return existsSync(path) ? { text: readFileSync(path, "utf8") } : { problem: "missing" };
  },
};
const library = loadLibrary(libraryFiles());

function sample(path: string): Solved {
  const analysis = new Analyser(disk, library).analyse(pathToFileURL(join(samples, path)).href);
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
  const width = 280.08 * millimetre;
  const stack = 2.75 * inch;
  const half = (limit: number): number =>
    (limit + 0.875) * inch + width / 2 + 18 * millimetre - stack;
  const faces = half(24.75) + half(24.6875);

  test("housing width, marks and shafts", () => {
    expect(build.figure("rear_housing.face_to_face")).toBeCloseTo(faces, 9);
    expect(build.figure("rear.left.tape_reading")).toBeCloseTo(
      half(24.75) - 2.0625 * inch + inch,
      9,
    );
    expect(build.figure("rear.left.shaft_length")).toBeCloseTo(
      half(24.75) + 2.5 * inch + inch - 0.625 * inch,
      9,
    );
    expect(build.figure("rear.right.shaft_length")).toBeCloseTo(
      half(24.6875) + 2.5 * inch - inch - 0.625 * inch,
      9,
    );
    expect(build.analysis.write(build.analysis.values.get("rear_housing.face_to_face")!)).toBe(
      "58 1/8 in",
    );
  });

  test("the housing width is as sure as the limits, the standoffs and the hats together", () => {
    expect(build.worst("rear_housing.face_to_face") / inch).toBeCloseTo(
      2 * (1 / 16 + 0.01 + 0.005),
      6,
    );
  });

  test("the record after welding lies within the spec's tolerance", () => {
    const built = answers(build.analysis.asBuilt());
    expect(built.standing("rear_housing.face_to_face")).toBe("measured");
    expect(built.figure("rear_housing.face_to_face") / inch).toBeCloseTo(58.125, 9);
  });

  test("the bolt-in axle takes its wheels' offset and leaves the tires where they are", () => {
    const option = build.analysis.under("bolt_in");
    if (option === undefined) expect.fail("the option is not there");
    const bolted = answers(option);
    const narrower = (faces - 57.25 * inch) / 2;
    expect(bolted.figure("rear_wheel.offset")).toBeCloseTo(18 * millimetre - narrower, 9);
    expect(bolted.figure("rear_wheel.backspace")).toBeCloseTo(
      5 * inch + 18 * millimetre - narrower,
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
    const brakes = 2 * 210;
    const tires = 2 * 189;
    const oil = 3 * 17;
    const cut = tires + 2 * 245 + brakes + 420 + 640 + 2 * 285 + 2 * 48 + oil;
    expect(build.figure("costs.total")).toBeCloseTo(cut + 16 * 85, 6);
    const bought = tires + 2 * 410 + brakes + 1150 + oil;
    expect(answers(option).figure("costs.total")).toBeCloseTo(bought + 5 * 85, 6);
  });

  test("axle load and what the tires make of it", () => {
    expect(build.figure("rear.load") / pound).toBeCloseTo(3640 * 0.48, 6);
    expect(build.figure("rear.fit.load_share")).toBeCloseTo((3640 * 0.48 * pound) / 2 / 825, 9);
  });

  test("one objection in the file that shows one", () => {
    const tight = sample("harbor-van/tight.trammel");
    expect(tight.errors()).toHaveLength(1);
    expect(tight.analysis.findings).toHaveLength(1);
    expect(tight.analysis.findings[0]?.code).toBe("clearance/inner-gap");
    // 295 mm on a 9 in rim, measured on 9 1/2 in: 295 - 0.4 * 12.7 = 289.92 mm.
    const gap =
      28.75 * inch + 2.75 * inch - 18 * millimetre - (289.92 / 2) * millimetre - 24.75 * inch;
    expect(tight.figure("rear.left.inner_gap")).toBeCloseTo(gap, 9);
  });
});

describe("alder truck", () => {
  const build = sample("alder-truck/build.trammel");

  test("the housing follows from the mounting faces, centred by assumption", () => {
    expect(build.figure("rear_housing.face_to_face") / millimetre).toBeCloseTo(
      1512 - 2 * (63.5 + 6.4),
      9,
    );
    expect(build.standing("rear_housing.face_to_face")).toBe("solved");
    expect(build.figure("rear.track") / millimetre).toBeCloseTo(1512 + 12, 9);
    expect(build.analysis.values.get("rear.left.shaft_length")?.restsOn.join()).toContain(
      "centred",
    );
  });

  test("a carrier to the left shortens the left shaft", () => {
    const straight = 1372.2 / 2 + 63.5 - 14;
    expect(build.figure("rear.left.shaft_length") / millimetre).toBeCloseTo(straight - 38, 9);
    expect(build.figure("rear.right.shaft_length") / millimetre).toBeCloseTo(straight + 38, 9);
  });
});
