/**
 * A drawing as plain data: elements with attributes and children, as SVG has them, to be written
 * out, sent to a panel or read back by a test.
 *
 *     svgOf(group({ class: "part" }, [line("outline", [0, 0], [10, 0])]))
 *
 * Lengths are millimeters on paper. No text becomes markup here: names of elements and attributes
 * are ours, values pass the boundary for untrusted text where they are written. Must not know: what is drawn.
 */

import { forHtml } from "../text/untrusted-text";

export type Point = readonly [x: number, y: number];

export interface Shape {
  readonly tag: "svg" | "g" | "line" | "path" | "circle" | "text" | "title" | "desc";
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly (Shape | string)[];
}

/** Left, top, right, bottom. */
export type Box = readonly [left: number, top: number, right: number, bottom: number];

export function group(
  attributes: Shape["attributes"],
  children: readonly (Shape | string)[],
): Shape {
  return { tag: "g", attributes, children };
}

/** `kind`: a line kind of the style, `outline` or `center hidden`. */
export function line(kind: string, from: Point, to: Point, more: Shape["attributes"] = {}): Shape {
  const [x1, y1] = from;
  const [x2, y2] = to;
  return { tag: "line", attributes: { class: kind, x1, y1, x2, y2, ...more }, children: [] };
}

export function path(kind: string, d: string, more: Shape["attributes"] = {}): Shape {
  return { tag: "path", attributes: { class: kind, d, ...more }, children: [] };
}

export function circle(kind: string, [cx, cy]: Point, r: number): Shape {
  return { tag: "circle", attributes: { class: kind, cx, cy, r }, children: [] };
}

/** `<title>`: what a pointer that rests on the group reads. */
export function tooltip(text: string): Shape {
  return { tag: "title", attributes: {}, children: [text] };
}

/** The path through points; `closed` joins the last to the first. */
export function through(points: readonly Point[], closed: boolean): string {
  const steps = points.map(([x, y], index) => `${index === 0 ? "M" : "L"}${fixed(x)} ${fixed(y)}`);
  return `${steps.join("")}${closed ? "Z" : ""}`;
}

/** A ten-thousandth of a millimeter on paper: at 1:50 that is five thousandths on the part. */
export function fixed(value: number): string {
  const rounded = Math.round(value * 10_000) / 10_000;
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

export function svgOf(shape: Shape): string {
  const attributes = Object.entries(shape.attributes)
    .map(
      ([name, value]) => ` ${name}="${typeof value === "number" ? fixed(value) : forHtml(value)}"`,
    )
    .join("");
  if (shape.children.length === 0) return `<${shape.tag}${attributes}/>`;
  const inner = shape.children.map((child) =>
    typeof child === "string" ? forHtml(child) : svgOf(child),
  );
  const apart = shape.tag === "svg" || (shape.tag === "g" && shape.attributes.class !== undefined);
  const between = apart ? "\n" : "";
  return `<${shape.tag}${attributes}>${between}${inner.join(between)}${between}</${shape.tag}>`;
}
