/** `trammel reference`: what the library knows about a subject, or a code means, as Markdown. */

import { codes } from "../findings/codes";
import {
  codeSection,
  findingsPage,
  findingsSubject,
  subjectOfCheck,
} from "../report/findings-page";
import { referenceIndex, referencePage, subjectNamed, subjects } from "../report/reference-page";
import { rolesPage, rolesSubject } from "../report/roles-page";
import { printWhole } from "./print";
import { exit } from "./problem";
import { noSuch, type Session } from "./session";

export function reference(name: string | undefined, session: Session): number {
  const { library, world } = session;
  if (name === undefined) {
    printWhole(world, referenceIndex(library));
    return exit.clean;
  }
  const subject = subjectNamed(name, library) ?? subjectOfCheck(name, library.vocabulary);
  const page =
    name === findingsSubject
      ? findingsPage(library)
      : name === rolesSubject
        ? rolesPage(library)
        : subject === undefined
          ? codeSection(name)
          : referencePage(subject, library);
  if (page === undefined) {
    throw noSuch("subject", name, [
      ...new Set([
        ...subjects(library),
        findingsSubject,
        rolesSubject,
        ...library.vocabulary.kinds.keys(),
        ...Object.keys(codes),
      ]),
    ]);
  }
  printWhole(world, page);
  return exit.clean;
}
