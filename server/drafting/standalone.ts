/** A drawing as one SVG file that needs nothing beside it. */
import type { Drawing } from "./layout";
import { svgOf } from "./shape";
import { styleAlone } from "./style";

export function standalone({ shape }: Pick<Drawing, "shape">): string {
  const text = svgOf(shape);
  const end = text.indexOf(">") + 1;
  return `${text.slice(0, end)}\n<style>${styleAlone()}</style>${text.slice(end)}\n`;
}
