/** `trammel sheet`: the pack of sheets for the bench, as HTML, Markdown or PDF. */
import { gitRevision } from "../disk/git-revision";
import { printPdf } from "../disk/print-pdf";
import { writeFile } from "../disk/write-file";
import { packOf, sheetsHtml, sheetsMarkdown } from "../sheets";
import { printWhole } from "./print";
import { CommandProblem, exit } from "./problem";
import type { Session, View } from "./session";
import { todayOf } from "./today";

export interface SheetOptions extends View {
  readonly format: "html" | "markdown" | "pdf";
  readonly to: string | undefined;
  /** By the build's units unless said. */
  readonly paper: "letter" | "a4" | undefined;
}

export function sheet(file: string, options: SheetOptions, session: Session): number {
  const { format, to, option, asBuilt } = options;
  if (format === "pdf" && to === undefined)
    throw new CommandProblem("a PDF needs a file to go to: add --to sheets.pdf");
  const { analysis, name } = session.open(file, options);
  const revision = gitRevision(session.pathOf(file));
  const pack = packOf(analysis, {
    file: name,
    date: todayOf(session.world),
    paper: options.paper ?? (analysis.style.system === "inch" ? "letter" : "a4"),
    ...(revision === undefined ? {} : { revision }),
    ...(option === undefined ? {} : { option }),
    ...(asBuilt === true ? { asBuilt } : {}),
  });
  session.askWhole();
  const text = format === "markdown" ? sheetsMarkdown(pack) : sheetsHtml(pack);
  if (to === undefined) printWhole(session.world, text);
  else {
    const path = session.pathOf(to);
    const problem =
      format === "pdf" ? printPdf(text, path, session.world.environment) : writeFile(path, text);
    if (problem !== undefined) throw new CommandProblem(`cannot write ${to}: ${problem.why}`);
  }
  return exit.clean;
}
