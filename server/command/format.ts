/** `trammel format`: builds in the usual layout. */

import { format as laidOut, type Refused } from "../../grammar/format";
import { uriOf } from "../disk/file-uri";
import type { DecodedText } from "../disk/text-encoding";
import { writeFile } from "../disk/write-file";
import { textProblemInWords } from "../findings/worded";
import { buildFiles } from "./inputs";
import { print, printWhole, tell } from "./print";
import { CommandProblem, exit } from "./problem";
import type { Session } from "./session";

export interface FormatOptions {
  readonly write: boolean;
  readonly check: boolean;
}

export function format(
  written: readonly string[],
  options: FormatOptions,
  session: Session,
): number {
  if (options.write && options.check)
    throw new CommandProblem("--write changes files and --check only lists them: choose one");
  if (options.write && written.includes("-"))
    throw new CommandProblem("standard input cannot be changed: leave --write out");
  const files = buildFiles(written, (each) => session.pathOf(each));
  if (files.length > 1 && !options.write && !options.check) {
    throw new CommandProblem(
      "several builds cannot go to standard output: add --write to change the files or --check to list those to change",
    );
  }
  let changed = 0;
  let broken = false;
  let unusable = false;
  for (const { path, written: name } of files) {
    const before = readable(session, name ?? path);
    // One file that cannot be read or written does not keep the others from being laid out.
    if (before === undefined) {
      unusable = true;
      continue;
    }
    const { text } = before;
    const { text: formatted, refused } = laidOut(text);
    if (refused !== undefined) {
      tell(
        session.world,
        `trammel: ${name ?? session.nameOf(uriOf(path))} is left as it is: ${why(refused)}`,
      );
      broken = true;
    }
    if (!options.write && !options.check) {
      printWhole(session.world, formatted);
      return broken ? exit.findings : exit.clean;
    }
    if (formatted === text) continue;
    changed++;
    if (options.write) {
      const problem = writeFile(path, formatted, { before });
      if (problem !== undefined) {
        tell(
          session.world,
          `trammel: cannot write ${name ?? session.nameOf(uriOf(path))}: ${problem.why}`,
        );
        unusable = true;
        continue;
      }
    }
    print(session.world, [session.nameOf(uriOf(path))]);
  }
  if (unusable) return exit.unusable;
  return broken || (options.check && changed > 0) ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

function readable(session: Session, name: string): DecodedText | undefined {
  try {
    return session.textOf(name);
  } catch (error) {
    if (!(error instanceof CommandProblem)) throw error;
    tell(session.world, `trammel: ${error.message}`);
    return undefined;
  }
}

function why(refused: Refused): string {
  return refused.is === "meaning"
    ? "the layout cannot be changed without changing what is said"
    : `line ${refused.line}: ${textProblemInWords(refused.problem)}`;
}
