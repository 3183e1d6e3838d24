/** `trammel check`: what is wrong in builds, for a terminal, a program or a review. */

import type { Severity } from "../findings/finding";
import { countsOf, type PlacedFinding, sortedFindings } from "../report/placed-finding";
import type { CheckOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { findingOutput } from "./finding-json";
import { findingLines, summaryLine } from "./finding-text";
import { buildFiles } from "./inputs";
import type { Palette } from "./palette";
import { print, printAnnotations, printJson, tell } from "./print";
import { exit } from "./problem";
import { reviewAnnotations } from "./review-annotations";
import { sarif } from "./sarif";
import type { Session, View } from "./session";
import { checkInShares } from "./shares";
import { version } from "./version";

export interface CheckOptions extends View {
  readonly format: "text" | "json" | "sarif" | "github";
  /** The gentlest severity that makes the command end with 1. */
  readonly failOn: "error" | "warning";
  readonly exitZero: boolean;
}

export async function check(
  files: readonly string[],
  options: CheckOptions,
  session: Session,
  palette: Palette,
): Promise<number> {
  const view: View = {
    option: options.option,
    asBuilt: options.asBuilt,
    settings: options.settings,
    time: options.time,
  };
  const { findings, builds, problems } = await findingsIn(files, view, session);
  const { world } = session;
  for (const problem of problems) tell(world, `trammel: ${problem}`);
  // Nothing could be read: there is nothing to tell.
  if (builds === 0) return exit.unusable;
  switch (options.format) {
    case "text":
      print(world, [
        ...findingLines(findings, palette),
        ...(findings.length > 0 ? [""] : []),
        summaryLine(findings, builds, palette),
      ]);
      break;
    case "json": {
      const output: CheckOutput = {
        schemaVersion,
        findings: findings.map(findingOutput),
        summary: { files: builds, ...countsOf(findings) },
      };
      printJson(world, output);
      break;
    }
    case "sarif":
      printJson(world, sarif(findings, version, session.library.vocabulary));
      break;
    case "github":
      printAnnotations(world, reviewAnnotations(findings));
      break;
  }
  if (problems.length > 0) return exit.unusable;
  if (options.exitZero) return exit.clean;
  const failing: readonly Severity[] =
    options.failOn === "warning" ? ["error", "warning"] : ["error"];
  return findings.some(({ severity }) => failing.includes(severity)) ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

interface Found {
  readonly findings: readonly PlacedFinding[];
  readonly builds: number;
  readonly problems: readonly string[];
}

/** A file of a folder that another build uses is checked as a part of that build, not alone. */
async function findingsIn(
  written: readonly string[],
  view: View,
  session: Session,
): Promise<Found> {
  const files = buildFiles(written, (each) => session.pathOf(each));
  const checked = await checkInShares({ files, view }, session);
  const used = new Set(checked.files.flatMap(({ uses }) => uses));
  const kept = checked.files.filter(({ uri, named }) => named || !used.has(uri));
  return {
    findings: sortedFindings(kept.flatMap(({ findings }) => findings)),
    builds: kept.length,
    problems: [...checked.problems].sort(),
  };
}
