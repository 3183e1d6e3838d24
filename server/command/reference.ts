/** `trammel reference`: what the library knows about a subject, as Markdown. */

import { referenceIndex, referencePage, subjectNamed, subjects } from "../report/reference-page";
import { printWhole } from "./print";
import { exit } from "./problem";
import { noSuch, type Session } from "./session";

export function reference(name: string | undefined, session: Session): number {
  const { library, world } = session;
  if (name === undefined) {
    printWhole(world, referenceIndex(library));
    return exit.clean;
  }
  const subject = subjectNamed(name, library);
  const page = subject === undefined ? undefined : referencePage(subject, library);
  if (page === undefined) {
    throw noSuch("subject", name, [
      ...new Set([...subjects(library), ...library.vocabulary.kinds.keys()]),
    ]);
  }
  printWhole(world, page);
  return exit.clean;
}
