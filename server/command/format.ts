/** `trammel format`: builds in the usual layout. */
import { writeFileSync } from "node:fs";
import { format as laidOut } from "../../grammar/format";
import { uriOf } from "./disk-host";
import { buildFiles } from "./inputs";
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
  const files = buildFiles(written, (each) => session.pathOf(each));
  if (files.length > 1 && !options.write && !options.check) {
    throw new CommandProblem(
      "several builds cannot go to standard output: add --write to change the files or --check to list those to change",
    );
  }
  let changed = 0;
  let broken = false;
  for (const { path, written: name } of files) {
    const text = session.textOf(name ?? path);
    const { text: formatted, refused } = laidOut(text);
    if (refused !== undefined) {
      session.world.log(
        `trammel: ${name ?? session.nameOf(uriOf(path))} is left as it is: ${refused}\n`,
      );
      broken = true;
    }
    if (!options.write && !options.check) {
      session.world.out(formatted);
      return broken ? exit.findings : exit.clean;
    }
    if (formatted === text) continue;
    changed++;
    session.world.out(`${session.nameOf(uriOf(path))}\n`);
    if (options.write) save(path, formatted, name ?? path);
  }
  return broken || (options.check && changed > 0) ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

function save(path: string, text: string, name: string): void {
  try {
    writeFileSync(path, text);
  } catch {
    throw new CommandProblem(`cannot write ${name}`);
  }
}
