/** `trammel reference`: what the library knows about a subject, as Markdown. */
import { referenceIndex, referencePage, subjectNamed, subjects } from "../report/reference-page";
import { exit } from "./problem";
import { noSuch, type Session } from "./session";

export function reference(name: string | undefined, session: Session): number {
  const { library, world } = session;
  if (name === undefined) {
    world.out(referenceIndex(library));
    return exit.clean;
  }
  const subject = subjectNamed(name, library);
  const page = subject === undefined ? undefined : referencePage(subject, library);
  if (page === undefined) {
    throw noSuch("subject", name, [
      ...new Set([...subjects(library), ...library.vocabulary.kinds.keys()]),
    ]);
  }
  world.out(page);
  return exit.clean;
}
