/**
 * What an option, and as built, cost that are laid over a build: trees, rows and cells of what they have
 * to do with, however much else is in the build; all else is the spec's own, the very objects.
 */
import { expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { BuildAnalysis } from "../../server/analysis/build-analysis";
import { memoryHost } from "../../server/analysis/host";
import { differing } from "../../server/analysis/results-kept";
import { folder, library } from "../model/build";

/** Axles that have nothing to do with each other, each with an option and a record of its own. */
function fleet(count: number): string {
  const axles = Array.from(
    { length: count },
    (_, at) => `wheel w${at} { size: 15x${6 + (at % 3)}  offset: ${5 + at} mm }
tire t${at} { size: 205/${60 + 5 * (at % 3)}R15 }
housing h${at} { standoff: 2 3/8 in  face_to_face: ? }
axle a${at} {
  wheel: w${at}
  tire: t${at}
  housing: h${at}
  left { inner_limit: 22 1/4 in ± 1/16 in  inner_gap: 3/4 in }
  right { inner_limit: 22 3/16 in  inner_gap: 3/4 in }
  mount_width: ?
}
check "gap ${at}": a${at}.left.inner_gap >= 1/2 in
option o${at} { h${at}.face_to_face: 5${at % 8} 1/4 in  a${at}.left.inner_gap: ? }
record "r${at}" 2026-05-02 { a${at}.left.inner_limit: 22 5/16 in }`,
  );
  return axles.join("\n");
}

class Counted {
  readonly spec: BuildAnalysis;

  constructor(text: string) {
    const uri = `${folder}build.trammel`;
    const analysis = new Analyzer(memoryHost(new Map([[uri, text]]), [folder]), library()).analyze(
      uri,
    );
    if (!(analysis instanceof BuildAnalysis)) throw new Error("the root file could not be read");
    this.spec = analysis;
    void analysis.findings;
  }

  /** What is made where something is laid over the build for the first time. */
  made(lay: (spec: BuildAnalysis) => BuildAnalysis | undefined) {
    const { counts, plans } = this.spec.reading.workshop;
    const before = { ...counts, cells: plans.solved };
    const over = lay(this.spec);
    if (over === undefined || over === this.spec) throw new Error("nothing was laid over it");
    void over.checks.map(({ verdict }) => verdict.worst);
    const { gone, come } = differing(this.spec, over);
    return {
      trees: counts.trees - before.trees,
      rows: counts.rows - before.rows,
      equations: counts.equations - before.equations,
      cells: plans.solved - before.cells,
      gone: gone.length,
      come: come.length,
      kept: over.results.filter((result) => this.spec.results.includes(result)).length,
      others: over.results.length - come.length,
    };
  }
}

test("an option costs what it has to do with, however long the build is", () => {
  const [few, many] = [new Counted(fleet(2)), new Counted(fleet(8))];
  // The findings have read each option already: laid over once more as lines that say the same.
  const lines = "h1.face_to_face: 51 1/4 in  a1.left.inner_gap: ?";
  const trying = (spec: BuildAnalysis) => spec.trying(lines) as BuildAnalysis;
  const [one, other] = [few.made(trying), many.made(trying)];
  expect({ ...other, kept: 0, others: 0 }).toEqual({ ...one, kept: 0, others: 0 });
  // The housing and the axle, with what is written into them, and the line itself.
  expect(other.trees).toBeLessThanOrEqual(3);
  expect(other.rows).toBeLessThanOrEqual(6);
  expect(other.come).toBeLessThanOrEqual(8);
  expect(other.kept).toBe(other.others);
  expect(other.others).toBeGreaterThan(6 * 4);
});

test("an option that was read says of all else what the spec says, by the same objects", () => {
  const { spec } = new Counted(fleet(8));
  const over = spec.under("o3") as BuildAnalysis;
  const { come } = differing(spec, over);
  const touched = new Set(come.map(({ of }) => of.row.thing?.id.path ?? "line"));
  expect([...touched].sort()).toEqual(["a3", "h3", "line", "t3"]);
  for (const path of ["a4.mount_width", "h5.face_to_face", "w6.offset"])
    expect(over.valueAt(path)).toBe(spec.valueAt(path));
  expect(over.valueAt("a3.mount_width")).not.toBe(spec.valueAt("a3.mount_width"));
});
