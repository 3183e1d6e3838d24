/**
 * Solves a small build written in a test, so that a check reads as: given this text, this figure.
 *
 *     solved("tire t { size: 275/60R15 }").figure("t.section_height")   // 0.165, in meters
 *
 * Must not know: what the library says.
 */
import { expect } from "vitest";
import type { Analysis, CheckResult } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { library } from "../model/build";

const root = "file:///shop/build.trammel";

export interface Solved {
  readonly analysis: Analysis;
  /** The value in coherent SI; fails the test where there is none. */
  figure(path: string): number;
  /** The word of a text, choice or designation. */
  word(path: string): string | boolean | undefined;
  standing(path: string): string | undefined;
  /** Worst-case ± of a value, the larger of both sides, in coherent SI. */
  worst(path: string): number;
  /** The check with this code, of the thing at `path` where one is named. */
  check(code: string, path?: string): CheckResult;
  /** `name code: message` of every finding that is an error. */
  errors(): string[];
}

/** Solves `text`; further files can be given by their path beside it. */
export function solved(text: string, files: Readonly<Record<string, string>> = {}): Solved {
  const texts = new Map([[root, text]]);
  for (const [path, other] of Object.entries(files)) texts.set(`file:///shop/${path}`, other);
  const analysis = new Analyzer(memoryHost(texts), library()).analyze(root);
  if (analysis === undefined) throw new Error("the build could not be read");
  return answers(analysis);
}

export function answers(analysis: Analysis): Solved {
  return {
    analysis,
    figure(path) {
      const si = analysis.valueAt(path)?.si;
      if (si === undefined) {
        const why = [
          ...analysis.findings.map((finding) => `${finding.code}: ${finding.message}`),
          ...analysis.missing.map((missing) => `${missing.path}: ${missing.message}`),
        ];
        expect.fail(`no value at ${path}\n${why.join("\n")}`);
      }
      return si;
    },
    word: (path) => analysis.valueAt(path)?.word,
    standing: (path) => analysis.valueAt(path)?.standing,
    worst(path) {
      const spread = analysis.valueAt(path)?.spread();
      if (spread === undefined) expect.fail(`no spread at ${path}`);
      return Math.max(spread.worstBelow, spread.worstAbove);
    },
    check(code, path) {
      const found = analysis.checks.filter(
        (check) => check.code === code && (path === undefined || check.thing?.path === path),
      );
      const [only] = found;
      if (only === undefined || found.length > 1) {
        const known = analysis.checks.map((check) => `${check.thing?.path ?? ""} ${check.code}`);
        expect.fail(`${found.length} checks ${code} at ${path}; there are ${known.join(", ")}`);
      }
      return only;
    },
    errors: () =>
      analysis.findings
        .filter((finding) => finding.severity === "error")
        .map((finding) => `${finding.code}: ${finding.message}`),
  };
}

/** Figures in the units tests are written in. */
export const inch = 0.0254;
export const millimeter = 1e-3;
export const degree = Math.PI / 180;
export const pound = 0.45359237;
export const poundForce = pound * 9.80665;
export const psi = poundForce / inch ** 2;
export const mile = 1609.344;
export const revolutionsPerMinute = Math.PI / 30;
export const inchPound = poundForce * inch;
