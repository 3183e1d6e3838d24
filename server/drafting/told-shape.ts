/** What a shape that tells a figure carries: its path, its words, an area a finger finds. */
import type { FigureLabel } from "./drawing";
import { grown } from "./geometry";
import { type Box, type Point, path, type Shape, through } from "./shape";

export function attributesOf(kind: string, reading: FigureLabel): Shape["attributes"] {
  const states = [reading.known ? "" : " missing", reading.tight === true ? " tight" : ""];
  const name = `${kind}${states.join("")}`;
  if (reading.path === "") return { class: name };
  return { class: name, "data-path": reading.path, "aria-label": reading.told };
}

/** Larger than the letters, so that a finger finds it. */
export function touchArea(box: Box): Shape {
  const [left, top, right, bottom] = grown(box, 0.8);
  const corners: Point[] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  return path("touch", through(corners, true));
}
