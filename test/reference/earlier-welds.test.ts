/**
 * What a shop's earlier welds say of the next one: the mean of what they drew in, and how surely that
 * is known (JCGM 100:2008, 4.2.3 and G.3). The welds are of our own invention; Student's t is worked
 * out here by integrating its density.
 */
import { describe, expect, test } from "vitest";
import { library } from "../model/build";
import { solved } from "./solve-text";

const inch = 0.0254;

function build(drawnIn: readonly number[]): string {
  const jobs = drawnIn.map(
    (each, at) =>
      `weld_history job_${at} { fitted_width: 57 in; welded_width: ${57 - 2 * each} in }\n`,
  );
  const names = drawnIn.map((_, at) => `job_${at}`).join(", ");
  return `${jobs.join("")}housing tube { end_length: 2 in; earlier_welds: [${names}]; face_to_face: 58 1/4 in }
axle rear { housing: tube; left { tube_mark: ? to 1/1024 in ± 0 in } }
`;
}

describe("what earlier welds drew in", () => {
  test("their mean is made good, as surely as they agree", () => {
    const drawn = [0.03, 0.045, 0.036];
    const { analysis } = solved(build(drawn));
    const mean = 0.037;
    const deviation = Math.sqrt((0.007 ** 2 + 0.008 ** 2 + 0.001 ** 2) / 2);
    const outcome = analysis.valueAt("tube.weld_shrinkage")?.outcome();
    expect((outcome?.si ?? 0) / inch).toBeCloseTo(mean, 9);
    expect((outcome?.worst ?? 0) / inch).toBeCloseTo((4.3 * deviation) / Math.sqrt(3), 6);
  });

  test("it goes on into the saw line", () => {
    const alike = solved(build([0.03, 0.03, 0.03])).analysis.valueAt("rear.left.tube_mark");
    const unlike = solved(build([0.02, 0.03, 0.04])).analysis.valueAt("rear.left.tube_mark");
    const by = (unlike?.outcome()?.worst ?? 0) - (alike?.outcome()?.worst ?? 0);
    expect(by / inch).toBeCloseTo((4.3 * 0.01) / Math.sqrt(3), 6);
  });

  test("one weld alone says nothing of how they differ", () => {
    const { analysis } = solved(build([0.04]));
    const outcome = analysis.valueAt("tube.weld_shrinkage")?.outcome();
    expect((outcome?.si ?? 0) / inch).toBeCloseTo(0.04, 9);
    expect(outcome?.worst).toBeCloseTo(0, 12);
  });
});

test("the table of Student's t holds 95 of 100", () => {
  const rows = library().vocabulary.tables.get("student")?.rows ?? [];
  expect(rows.length).toBeGreaterThan(10);
  for (const row of rows) {
    const [freedom = 0, factor = 0] = row.map(Number);
    expect(shareWithin(factor, freedom), `${freedom} degrees`).toBeCloseTo(0.95, 2);
  }
});

/** The share of Student's distribution within ± t, by Simpson's rule after x = tan u. */
function shareWithin(t: number, freedom: number): number {
  const density = (u: number): number =>
    (1 + Math.tan(u) ** 2 / freedom) ** (-(freedom + 1) / 2) / Math.cos(u) ** 2;
  const integral = (to: number): number => {
    const steps = 20_000;
    let sum = 0;
    for (let at = 0; at <= steps; at++) {
      const weight = at === 0 || at === steps ? 1 : at % 2 === 0 ? 2 : 4;
      sum += weight * density((to * at) / steps);
    }
    return (sum * to) / steps / 3;
  };
  return integral(Math.atan(t)) / integral(Math.PI / 2 - 1e-9);
}
