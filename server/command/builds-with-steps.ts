/**
 * Builds of a folder that have an order of work: which one a step is put on record in, and which one to
 * ask where a build has none of its own.
 *
 *     wholeBuildsWithSteps("/shop", session, {})   →   [{ file: "work.trammel", build }]
 *
 * Must not know: what is done with them.
 */
import { basename, dirname } from "node:path";
import { isLogName } from "../analysis/logs-beside";
import { uriOf } from "../disk/file-uri";
import { filesBelow } from "../disk/files-below";
import { sequenceOf } from "../sequence";
import { type OpenBuild, patienceOf, type Session, type View } from "./session";

interface WithSteps {
  readonly file: string;
  readonly build: OpenBuild;
}

/**
 * A file that another one of them takes in is a part of it, one that cannot be read is none. All are
 * read in the time of one.
 */
export function wholeBuildsWithSteps(
  folder: string,
  session: Session,
  { time }: Pick<View, "time">,
): WithSteps[] {
  const patience = patienceOf(time);
  const found = filesBelow(folder, { most: 200, deepest: 1 })
    .filter((path) => !isLogName(basename(path)))
    .map((path) => session.nameOf(uriOf(path)))
    .flatMap((file) => {
      const path = session.pathOf(file);
      if ("problem" in session.lookAt(path)) return [];
      const build = session.open(file, { patience });
      return sequenceOf(build.analysis).steps.length === 0 ? [] : [{ file, build }];
    });
  return found.filter(
    ({ build }) =>
      !found.some((other) => other.build !== build && other.build.analysis.files.has(build.uri)),
  );
}

/**
 * Of a build without steps: why there are none, where one beside it takes it in and has them, and
 * which to ask.
 */
export function stepsElsewhere(
  file: string,
  session: Session,
  { time }: Pick<View, "time">,
): string | undefined {
  if (file === "-") return undefined;
  const path = session.pathOf(file);
  const beside = wholeBuildsWithSteps(dirname(path), session, { time }).filter(({ build }) =>
    build.analysis.files.has(uriOf(path)),
  );
  if (beside.length === 0) return undefined;
  const files = beside.map((each) => each.file).join(", ");
  const [is, has] = beside.length === 1 ? ["takes", "has"] : ["take", "have"];
  return `there are no steps in ${file}: ${files} ${is} it in and ${has} them`;
}
