/** `trammel draw`: a picture of a build as an SVG to scale, or a list of the pictures there are. */
import type { Analysis } from "../analysis/analysis";
import { writeFile } from "../disk/write-file";
import { standalone } from "../drafting";
import { dxfOf } from "../drafting/dxf";
import { nearest } from "../model/spelling";
import { draftPicture, drawPicture, picturesOf } from "../pictures";
import { textTable } from "../report/table";
import { print, printWhole } from "./print";
import { CommandProblem, exit } from "./problem";
import type { Session, View } from "./session";

export interface DrawOptions extends View {
  readonly format: "svg" | "dxf";
  readonly to: string | undefined;
  readonly drawn: boolean;
  readonly overBuilt: boolean;
}

export function draw(
  file: string,
  picture: string | undefined,
  options: DrawOptions,
  session: Session,
): number {
  const { analysis, spec } = session.open(file, options);
  if (picture === undefined) {
    const offers = picturesOf(analysis);
    if (offers.length === 0) session.askWhole();
    print(session.world, listOf(offers));
    return exit.clean;
  }
  const text = drawn(analysis, spec, picture, options);
  if (text === undefined) {
    const known = picturesOf(analysis).flatMap(({ id, path }) => [id, path]);
    const near = nearest(picture, known);
    const hint =
      near === undefined ? "trammel draw without a picture lists them" : `did you mean ${near}?`;
    throw new CommandProblem(`there is no picture called ${picture}: ${hint}`);
  }
  session.askWhole();
  if (options.to === undefined) printWhole(session.world, text);
  else {
    const problem = writeFile(session.pathOf(options.to), text);
    if (problem !== undefined)
      throw new CommandProblem(`cannot write ${options.to}: ${problem.why}`);
  }
  return exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

function drawn(
  analysis: Analysis,
  spec: Analysis,
  picture: string,
  { format, drawn: asDrawn, overBuilt }: DrawOptions,
): string | undefined {
  const reckoning = asDrawn || overBuilt ? "drawn" : "comes out";
  if (format === "dxf") {
    const draft = draftPicture(analysis, picture, { reckoning });
    return draft === undefined ? undefined : dxfOf(draft);
  }
  const drawing = drawPicture(analysis, picture, {
    reckoning,
    ...(overBuilt ? { over: spec.asBuilt() } : {}),
  });
  return drawing === undefined ? undefined : standalone(drawing);
}

function listOf(offers: ReturnType<typeof picturesOf>): string[] {
  if (offers.length === 0)
    return ["no pictures yet: an axle, a driveline, brakes, a gearbox or a joint would have one"];
  return textTable(
    offers.map(({ id, title }) => [id, title]),
    "",
  );
}
