/**
 * Checks many builds one after the other; what goes in and comes out is plain data, so that a share
 * of the work can be done in another thread.
 *
 * Must not know: how findings are written, threads.
 */
import { uriOf } from "../disk/file-uri";
import { type PlacedFinding, placedFindings } from "../report/placed-finding";
import type { InputFile } from "./inputs";
import { CommandProblem } from "./problem";
import type { Session, View } from "./session";

export interface CheckWork {
  readonly files: readonly InputFile[];
  readonly view: View;
}

export interface CheckedFile {
  readonly uri: string;
  /** True where the file was named itself. */
  readonly named: boolean;
  readonly findings: readonly PlacedFinding[];
  /** URIs of the other files it is made of. */
  readonly uses: readonly string[];
}

export interface CheckedFiles {
  readonly files: readonly CheckedFile[];
  /** Why files could not be read. */
  readonly problems: readonly string[];
}

/** A file of a folder that an earlier one uses is left out: it is checked as a part of that. */
export function checkFiles({ files, view }: CheckWork, session: Session): CheckedFiles {
  const checked: CheckedFile[] = [];
  const problems: string[] = [];
  const used = new Set<string>();
  for (const { path, written } of files) {
    const uri = uriOf(path);
    if (written === undefined && used.has(uri)) continue;
    try {
      const build = session.open(written ?? session.nameOf(uri), view);
      const uses = [...build.analysis.files.keys()].filter((other) => other !== uri);
      for (const other of uses) used.add(other);
      const findings = placedFindings(build.analysis, (each) => session.nameOf(each));
      checked.push({ uri, named: written !== undefined, findings, uses });
      session.close(build);
    } catch (error) {
      // One file that cannot be read does not keep the others from being checked.
      if (!(error instanceof CommandProblem)) throw error;
      problems.push(error.message);
    }
  }
  return { files: checked, problems };
}
