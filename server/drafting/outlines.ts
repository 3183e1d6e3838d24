/**
 * The part itself on paper: each line and area of a draft as a shape with its hatching, and what of it
 * a name may not run through.
 *
 * Must not know: dimensions, names.
 */
import type { Lettering, Mark } from "./drawing";
import { boxAround, type Segment } from "./geometry";
import { hatch } from "./hatch";
import { boxOf, labelOf, letter, letterHeight } from "./lettering";
import type { Scale } from "./scale";
import { type Box, circle, fixed, line, type Point, path, type Shape, through } from "./shape";

export interface Outline {
  readonly mark: Mark;
  readonly box: Box;
  readonly shapes: readonly Shape[];
  readonly segments: readonly Segment[];
}

export function outlineOf(mark: Mark, at: (point: Point) => Point, { paper }: Scale): Outline {
  const named: Record<string, string> = {};
  if (mark.part !== undefined) named["data-part"] = mark.part;
  if (mark.path !== undefined) named["data-path"] = mark.path;
  const points = mark.points.map(at);
  const [center = [0, 0]] = points;
  if (mark.radius !== undefined) {
    const radius = mark.radius * paper;
    const shape = circle(mark.kind, center, radius);
    const corners = roundPoints(center, radius);
    return {
      mark,
      box: boxAround(corners),
      shapes: [{ ...shape, attributes: { ...shape.attributes, ...named } }],
      segments: ring(corners),
    };
  }
  const shapes: Shape[] = [];
  if (mark.hatch !== undefined && points.length > 2) {
    const lines = hatch(points, mark.hatch, mark.turned);
    const d = lines.map((each) => through(each, false)).join("");
    if (d !== "") shapes.push(path("hatching", d));
  }
  const corner = (mark.round ?? 0) * paper;
  const d = corner > 0.05 && mark.closed ? rounded(points, corner) : through(points, mark.closed);
  if (mark.kind !== "hatching") {
    const [from, to] = points;
    shapes.unshift(
      points.length === 2 && from !== undefined && to !== undefined
        ? line(mark.kind, from, to, named)
        : path(mark.kind, d, named),
    );
  }
  return {
    mark,
    box: boxAround(points),
    shapes,
    segments: mark.closed ? ring(points) : chain(points),
  };
}

function chain(points: readonly Point[]): Segment[] {
  return points.slice(1).map((point, index): Segment => [points[index] ?? point, point]);
}

function ring(points: readonly Point[]): Segment[] {
  return points.map(
    (point, index): Segment => [point, points[(index + 1) % points.length] ?? point],
  );
}

function roundPoints([x, y]: Point, radius: number): Point[] {
  return Array.from({ length: 16 }, (_, index): Point => {
    const angle = (index * Math.PI) / 8;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });
}

/** A polygon whose corners are rounded by arcs of that radius, less where an edge is short. */
function rounded(points: readonly Point[], radius: number): string {
  const steps = points.map((corner, index) => {
    const before = points[(index + points.length - 1) % points.length] ?? corner;
    const after = points[(index + 1) % points.length] ?? corner;
    const toward = (other: Point): Point => {
      const length = Math.hypot(other[0] - corner[0], other[1] - corner[1]);
      const by = Math.min(radius, length / 2) / (length || 1);
      return [corner[0] + (other[0] - corner[0]) * by, corner[1] + (other[1] - corner[1]) * by];
    };
    const [from, to] = [toward(before), toward(after)];
    const start = index === 0 ? "M" : "L";
    return `${start}${from.map(fixed).join(" ")}Q${corner.map(fixed).join(" ")} ${to.map(fixed).join(" ")}`;
  });
  return `${steps.join("")}Z`;
}

export function letteringOf(
  { at: place, text, height, from, bold }: Lettering,
  at: (point: Point) => Point,
): { readonly shapes: readonly Shape[]; readonly textBox: Box } {
  const label = labelOf(text, height);
  const [x, y] = at(place);
  const left = from === "start" ? x : from === "end" ? x - label.width : x - label.width / 2;
  const start: Point = [left, y + (height ?? letterHeight) / 2];
  return {
    shapes: letter(label, start, bold === true ? "strong" : "letters"),
    textBox: boxOf(label, start),
  };
}
