/**
 * A build given as text, solved with the library that ships: for tests that hold the trade's
 * figures against published ones.
 *
 *   expect(si(solved("vehicle van { wheelbase: 2.7 m }"), "van.wheelbase")).toBe(2.7)
 */
import { expect } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";

export const library = loadLibrary(libraryFiles());

const uri = "file:///shop/build.trammel";

/** The analysis of a build; fails the test where the text itself cannot be understood. */
export function solved(text: string): Analysis {
  const analysis = new Analyzer(memoryHost(new Map([[uri, text]])), library).analyze(uri);
  if (analysis === undefined) throw new Error("the text was not read");
  const wrong = analysis.findings.filter((finding) =>
    /^(syntax|name|unit|value|given|solve|use|reference|table)\//.test(finding.code),
  );
  expect(wrong.map((finding) => `${finding.code}: ${finding.message}`)).toEqual([]);
  return analysis;
}

/** A solved figure in coherent SI; fails the test where there is none. */
export function si(analysis: Analysis, path: string): number {
  const value = analysis.valueAt(path);
  if (value?.si === undefined) throw new Error(`no figure for ${path}: ${value?.standing}`);
  return value.si;
}

/** Codes of the checks that do not hold. */
export function failing(analysis: Analysis): string[] {
  return analysis.checks
    .filter((check) => check.verdict.nominal === "fails")
    .map((check) => check.code)
    .sort();
}

/** Codes of the checks that hold. */
export function holding(analysis: Analysis): string[] {
  return analysis.checks
    .filter((check) => check.verdict.nominal === "holds")
    .map((check) => check.code)
    .sort();
}

/** Equal to the digits published: within half of the last one. */
export function expectDigits(found: number, published: string): void {
  const decimals = published.split(/[eE]/)[0]?.split(".")[1]?.length ?? 0;
  expect(Math.abs(found - Number(published)), `${found} against ${published}`).toBeLessThanOrEqual(
    0.5 * 10 ** -decimals * (1 + 1e-9),
  );
}

/** Within a share of what is expected. */
export function expectNear(found: number, expected: number, share = 1e-9): void {
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
}
