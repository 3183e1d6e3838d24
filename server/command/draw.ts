/** `trammel draw`: the tightening order of a joint as an SVG. */

import { nearest } from "../model/spelling";
import { boltPattern } from "../report/bolt-pattern";
import { sequenceOf } from "../sequence";
import { CommandProblem, exit } from "./problem";
import type { Session, View } from "./session";

export function draw(file: string, path: string, options: View, session: Session): number {
  const { joints } = sequenceOf(session.open(file, options).analysis);
  const joint = joints.find((each) => each.path === path);
  if (joint === undefined) {
    const known = joints.map((each) => each.path);
    const near = nearest(path, known);
    const hint =
      known.length === 0
        ? "this build tightens no joints"
        : near === undefined
          ? `joints here: ${known.join(", ")}`
          : `did you mean ${near}?`;
    throw new CommandProblem(`there is no joint ${path}: ${hint}`);
  }
  const drawing = boltPattern(joint);
  if (drawing === undefined) throw new CommandProblem(`${path} has no order to draw`);
  session.world.out(`${drawing}\n`);
  return exit.clean;
}
