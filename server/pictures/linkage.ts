/**
 * The links of a live axle in side view, to scale: upper and lower link, their lines drawn on to the
 * instant center, the line from the tire's contact to it, the axle and the ground.
 *
 *     linksFromTheSide(figures, linkage)   →   a draft in millimeters, x rearward from the axle
 *
 * The front of the vehicle is to the left. Must not know: scales, paper.
 */
import { Draft, type Point } from "../drafting";
import type { Thing } from "../model/thing";
import { named, type PictureFigure, type PictureFigures, titleOf, words } from "./figures";

/** Farther off than this the lines are as good as parallel, and nobody can put a finger there. */
const farthest = 4000;

export function linksFromTheSide(figures: PictureFigures, thing: Thing): Draft {
  const own = (field: string, name = ""): PictureFigure => figures.of(thing, field, name);
  const draft = new Draft(
    `${titleOf(thing, thing.kind.title)}: links from the side`,
    "Links in side view; the front of the vehicle is to the left, heights count from the ground.",
  );
  const height = own("axle_height", "axle");
  for (const which of ["upper", "lower"]) drawLink(draft, own, which);
  if (height.known) {
    draft.circle("outline", [0, height.mm], 40, { part: "axle" });
    draft.dimension({ side: "right", from: [0, 0], to: [0, height.mm], reading: height.reading });
  } else draft.miss(height.reading);
  drawInstantCenter(draft, own);
  const ends = draft.marks.flatMap(({ points }) => points.map(([x]) => x));
  draft.line("thin", [Math.min(0, ...ends) - 60, 0], [Math.max(0, ...ends) + 120, 0], {
    part: "ground",
  });
  return draft;
}

// ───────────────────────────── helpers ─────────────────────────────

type Own = (field: string, name?: string) => PictureFigure;

function drawLink(draft: Draft, own: Own, which: string): void {
  const places = ["front", "rear"].map((end) => ({
    forward: own(`${which}_${end}_forward`),
    up: own(`${which}_${end}_up`, `${which} link's ${end} end`),
  }));
  const open = places.flatMap(({ forward, up }) => [forward, up]).filter(({ known }) => !known);
  if (open.length > 0) {
    for (const { reading } of open) draft.miss(reading);
    return;
  }
  const points = places.map(({ forward, up }): Point => [-forward.mm, up.mm]);
  const [front, rear] = points;
  if (front === undefined || rear === undefined) return;
  draft.line("outline", front, rear, { part: `${which} link` });
  for (const [index, point] of points.entries())
    draft.circle("outline", point, 14, {
      part: `${which} link, ${index === 0 ? "front" : "rear"}`,
    });
  const length = own(`${which}_length`, `${which} link`);
  draft.note({
    at: [(front[0] + rear[0]) / 2, (front[1] + rear[1]) / 2],
    reading: length.reading,
  });
  const side = which === "upper" ? "above" : "below";
  const [first, second] = places;
  if (first !== undefined && second !== undefined) {
    draft.dimension({
      side,
      from: [0, front[1]],
      to: front,
      reading: named(first.forward, `${which} front ${first.forward.value}`),
    });
    draft.dimension({ side: "left", from: [front[0], 0], to: front, reading: first.up.reading });
    draft.dimension({ side: "right", from: [rear[0], 0], to: rear, reading: second.up.reading });
  }
}

/** Where both lines meet: the point the axle turns about for an instant. */
function drawInstantCenter(draft: Draft, own: Own): void {
  const [upper, lower] = [own("upper_at_axle"), own("lower_at_axle")];
  const [upperSlope, lowerSlope] = [own("upper_slope"), own("lower_slope")];
  if (![upper, lower, upperSlope, lowerSlope].every(({ known }) => known)) return;
  const forward = (lower.mm - upper.mm) / (upperSlope.si - lowerSlope.si);
  if (!Number.isFinite(forward) || Math.abs(forward) > farthest) {
    draft.remarks.push("the links are as good as parallel: their instant center is far off");
    return;
  }
  const center: Point = [-forward, upper.mm + upperSlope.si * forward];
  for (const [which, at] of [
    ["upper", upper],
    ["lower", lower],
  ] as const)
    draft.line("center", [0, at.mm], center, { part: `${which} link's line` });
  draft.line("hidden", [0, 0], center, { part: "line to the instant center" });
  draft.note({
    at: [center[0] / 3, center[1] / 3],
    reading: own("anti_squat", "anti-squat").reading,
  });
  draft.circle("heavy", center, 10, { part: "instant center" });
  draft.note({ at: center, reading: words("instant center") });
}
