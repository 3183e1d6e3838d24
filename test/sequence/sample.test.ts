/**
 * The harbor van: its procedure, and the one mistake in its log.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import type { FileHost } from "../../server/analysis/host";
import { sequenceOf, writePlan } from "../../server/sequence";
import { library } from "./helper";

const folder = pathToFileURL(join(import.meta.dirname, "../../samples/harbor-van/")).href;
const host: FileHost = {
  read: (uri) => {
    try {
      return { text: readFileSync(new URL(uri), "utf8") };
    } catch {
      return { problem: "missing" };
    }
  },
};

function analysisOf(file: string): Analysis {
  const analysis = new Analyzer(host, library()).analyze(`${folder}${file}`);
  if (analysis === undefined) throw new Error(`${file} is there`);
  return analysis;
}

const errors = (findings: Analysis["findings"]): string[] =>
  findings.filter(({ severity }) => severity === "error").map(({ message }) => message);

describe("the harbor van's work", () => {
  test("its plan is in order, leaves nothing out and every joint is tightened and checked again", () => {
    const analysis = analysisOf("work.trammel");
    expect(errors(analysis.findings)).toEqual([]);
    const { findings, steps, joints } = sequenceOf(analysis);
    expect(findings.map(({ message }) => message)).toEqual([]);
    expect(steps.filter(({ holdsSteps }) => !holdsSteps).length).toBeGreaterThan(45);
    expect(joints.map(({ path }) => path).sort()).toEqual([
      "caliper_bolts",
      "carrier_nuts",
      "left_bracket",
      "retainer_nuts",
      "right_bracket",
      "strap_bolts",
      "u_bolts",
      "wheel_nuts",
    ]);
  });

  test("its log has one real mistake, and it is found", () => {
    const analysis = analysisOf("log.trammel");
    expect(errors(analysis.findings)).toEqual([]);
    const { findings } = sequenceOf(analysis);
    expect(
      findings.map(({ code, severity, message }) => `${severity} ${code}: ${message}`),
    ).toEqual([
      "error record/out-of-order: the tightening of `right_bracket` is recorded on 2026-04-03, before `braking.shims` (on 2026-04-04): shim before the bracket's last torque, because the shims are what the bolts clamp: tightened first, the bolts come out again",
    ]);
  });

  test("the plan says what is done, what comes next and what waits", () => {
    const text = writePlan(sequenceOf(analysisOf("log.trammel")));
    expect(text).toContain("  [x] 37. Fit the shims, 2026-04-04 by R. Calder");
    expect(text).toContain("  [!] 38. Tighten the brackets");
    expect(text).toContain("  [.] 40. Run lines and hoses");
    expect(text).toContain("pass 2: 100 %, 38 lb-ft, order 1 6 3 8 5 10 2 7 4 9");
    expect(text).toContain("        pass 3: 100 %, 115 lb-ft, order 1 3 5 2 4 then 6 8 10 7 9");
    expect(text).toContain("19 left. Next: Tighten the brackets.");
    for (const line of text.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });
});
