/** `trammel plan`: the order of work, joint by joint, with what is done and what is left. */

import { countsOf, placedFindings } from "../report/placed-finding";
import { sequenceOf, writePlan } from "../sequence";
import { findingLines } from "./finding-text";
import type { Palette } from "./palette";
import { print } from "./print";
import { exit } from "./problem";
import type { Session, View } from "./session";

export interface PlanOptions extends View {
  /** Leaves out what is done. */
  readonly left: boolean;
}

export function plan(
  file: string,
  options: PlanOptions,
  session: Session,
  palette: Palette,
): number {
  const build = session.open(file, options);
  const sequence = sequenceOf(build.analysis);
  print(session.world, linesOf(writePlan(sequence, { onlyLeft: options.left })));
  const nameOf = (uri: string): string => session.nameOf(uri);
  const own = placedFindings(build.analysis, nameOf, sequence.findings);
  const findings = [...placedFindings(build.analysis, nameOf), ...own];
  if (own.length > 0) print(session.world, ["", ...findingLines(own, palette)]);
  return countsOf(findings).errors > 0 ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

function linesOf(text: string): string[] {
  return text.replace(/\n$/, "").split("\n");
}
