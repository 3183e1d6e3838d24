/** `trammel check`: what is wrong in builds, for a terminal, a program or a review. */
import type { Severity } from "../model/finding";
import {
  countsOf,
  type PlacedFinding,
  placedFindings,
  sortedFindings,
} from "../report/placed-finding";
import type { CheckOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { uriOf } from "./disk-host";
import { findingOutput } from "./finding-json";
import { findingLines, summaryLine } from "./finding-text";
import { buildFiles } from "./inputs";
import type { Palette } from "./palette";
import { exit } from "./problem";
import { reviewAnnotations } from "./review-annotations";
import { sarif } from "./sarif";
import type { Session, View } from "./session";
import { version } from "./version";

export interface CheckOptions extends View {
  readonly format: "text" | "json" | "sarif" | "github";
  /** The gentlest severity that makes the command end with 1. */
  readonly failOn: "error" | "warning";
  readonly exitZero: boolean;
}

export function check(
  files: readonly string[],
  options: CheckOptions,
  session: Session,
  palette: Palette,
): number {
  const { findings, builds } = findingsIn(files, options, session);
  const { world } = session;
  switch (options.format) {
    case "text":
      world.out(
        `${[...findingLines(findings, palette), ...(findings.length > 0 ? [""] : []), summaryLine(findings, builds, palette)].join("\n")}\n`,
      );
      break;
    case "json": {
      const output: CheckOutput = {
        schemaVersion,
        findings: findings.map(findingOutput),
        summary: { files: builds, ...countsOf(findings) },
      };
      world.out(`${JSON.stringify(output, undefined, 2)}\n`);
      break;
    }
    case "sarif":
      world.out(sarif(findings, version));
      break;
    case "github":
      world.out(
        reviewAnnotations(findings)
          .map((line) => `${line}\n`)
          .join(""),
      );
      break;
  }
  if (options.exitZero) return exit.clean;
  const failing: readonly Severity[] =
    options.failOn === "warning" ? ["error", "warning"] : ["error"];
  return findings.some(({ severity }) => failing.includes(severity)) ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

/** A file of a folder that another build uses is checked as a part of that build, not alone. */
function findingsIn(
  written: readonly string[],
  view: View,
  session: Session,
): { findings: PlacedFinding[]; builds: number } {
  const findings = new Map<string, readonly PlacedFinding[]>();
  const used = new Set<string>();
  const named = new Set<string>();
  for (const { path, written: name } of buildFiles(written, (each) => session.pathOf(each))) {
    const uri = uriOf(path);
    if (name !== undefined) named.add(uri);
    else if (used.has(uri)) continue;
    const build = session.open(name ?? session.nameOf(uri), view);
    findings.set(
      uri,
      placedFindings(build.analysis, (each) => session.nameOf(each)),
    );
    for (const other of build.analysis.files.keys()) if (other !== uri) used.add(other);
    session.close(build);
  }
  const kept = [...findings].filter(([uri]) => named.has(uri) || !used.has(uri));
  return { findings: sortedFindings(kept.flatMap(([, each]) => each)), builds: kept.length };
}
