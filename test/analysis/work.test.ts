/**
 * How much work a build is, counted where the clock is asked: what hangs together in twice as many
 * figures is not eight times the work.
 */
import { expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { endless } from "../../server/keep/patience";
import { libraryFiles } from "../../server/library-files";
import { dense, readings, sums } from "../command/giants";

const uri = "file:///shop/build.trammel";
const library = loadLibrary(libraryFiles());

/** Findings, and all there is to tell of each figure. */
function workFor({ text }: { readonly text: string }): number {
  let asked = 0;
  const patience = { ...endless, isTakenBack: () => ++asked < 0 };
  const analysis = new Analyzer(memoryHost(new Map([[uri, text]])), library).analyze(
    uri,
    {},
    patience,
  )!;
  let told = analysis.findings.length;
  for (const value of analysis.values.values()) {
    told += value.restsOn.length + value.contributors().length + (value.reason?.inputs.length ?? 0);
  }
  expect(told).toBeGreaterThan(0);
  return asked;
}

test.each([
  ["figures solved together", dense, 200],
  ["readings of one system", readings, 40],
  ["sums over all", sums, 100],
])("%s", (_, make, count) => {
  const one = workFor(make(count));
  const two = workFor(make(2 * count));
  expect(two).toBeLessThan(5 * one);
});
