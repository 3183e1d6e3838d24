/**
 * An axle from behind, to scale: tires as mounted, rims with their offset, the housing with its
 * ends, tubes and saw lines, shafts to their tips, what the tires have to clear, and the gaps with
 * their ± as bands. Left of the vehicle is left in the picture.
 *
 *     axleFromBehind(figures, axle)   →   a draft in millimeters, x from the vehicle's centerline
 *
 * What is not known is dashed and stands where such a part usually would; its name says so. Heights
 * that a build never states (of the center section, of a limit) are drawn narrow, by habit.
 *
 * Must not know: scales, paper.
 */
import { Draft, type Point } from "../drafting";
import type { Thing } from "../model/thing";
import {
  measureHousing,
  measureTire,
  measureTires,
  measureWidths,
  nameTires,
} from "./axle-dimensions";
import { type Corner, cornerOf, type DrawnPlace } from "./corner";
import { named, type PictureFigure, type PictureFigures, titleOf } from "./figures";
import { axleParts, kinds } from "./vocabulary";

export function axleFromBehind(figures: PictureFigures, axle: Thing, over?: PictureFigures): Draft {
  return behind(figures, axle, { tires: true, housing: true, names: true }, over);
}

/** Tires and what they have to clear alone: for who measures the vehicle. */
export function limitsFromBehind(
  figures: PictureFigures,
  axle: Thing,
  over?: PictureFigures,
): Draft {
  return behind(figures, axle, { tires: true, housing: false, names: false }, over);
}

/** Housing, saw lines and shafts alone: for who cuts and welds. */
export function housingFromBehind(
  figures: PictureFigures,
  axle: Thing,
  over?: PictureFigures,
): Draft {
  return behind(figures, axle, { tires: false, housing: true, names: true }, over);
}

// ───────────────────────────── helpers ─────────────────────────────

/** What is drawn and measured; the housing's outlines are always there. */
interface Shown {
  readonly tires: boolean;
  readonly housing: boolean;
  /** Whether parts are called by name: a narrow page has no room beside a wide axle. */
  readonly names: boolean;
}

function behind(figures: PictureFigures, axle: Thing, shown: Shown, over?: PictureFigures): Draft {
  const draft = new Draft(
    titleOf(axle, axle.kind.title),
    "Seen from behind: the left side of the vehicle is on the left.",
  );
  const sides = sidesOf(figures, axle);
  drawHousing(draft, figures, axle, sides);
  for (const side of sides) {
    drawShaft(draft, figures, axle, side);
    if (shown.tires) {
      drawTire(draft, side);
      drawLimits(draft, side);
      drawBody(draft, figures, axle, side, shown.names);
      measureTire(draft, side);
    }
    if (shown.housing) measureHousing(draft, side);
  }
  if (shown.tires) {
    measureTires(draft, figures, axle, sides);
    if (shown.names) nameTires(draft, figures, axle, sides);
  }
  if (shown.housing) measureWidths(draft, figures, axle, sides);
  if (over !== undefined) drawOver(draft, over, axle);
  const reach = shown.tires
    ? Math.max(...sides.map(({ diameter }) => diameter.at / 2))
    : Math.max(...sides.map(({ flange, tube }) => Math.max(flange, tube * 2.6)));
  draft.line("center", [0, -reach * 1.08], [0, reach * 1.12], { part: "centerline", open: true });
  return draft;
}

function sidesOf(figures: PictureFigures, axle: Thing): readonly Corner[] {
  const { left, right } = axleParts;
  return [cornerOf(figures, axle, left, -1), cornerOf(figures, axle, right, 1)];
}

/** Outline or dashed, by whether it is known. */
function kindOf(...places: readonly (DrawnPlace | PictureFigure)[]): "outline" | "unknown" {
  return places.every(({ known }) => known) ? "outline" : "unknown";
}

function drawTire(draft: Draft, corner: Corner): void {
  const { sign, inner, outer, diameter, rim, center, face, path } = corner;
  const half = diameter.at / 2;
  const round = Math.min(half - rim.radius.at, (outer.at - inner.at) / 2) * 0.55;
  draft.rectangle(
    kindOf(inner, outer, diameter),
    [sign * inner.at, half],
    [sign * outer.at, -half],
    { part: `${path} tire`, round },
  );
  const rimKind = rim.known && center.known ? "hidden" : "unknown";
  for (const way of [1, -1]) {
    const [bead, lip] = [way * rim.radius.at, way * (rim.radius.at + rim.lip)];
    const inside = sign * (center.at - rim.overall.at / 2);
    const outside = sign * (center.at + rim.overall.at / 2);
    draft.polyline(
      rimKind,
      [
        [inside, lip],
        [inside, bead],
        [outside, bead],
        [outside, lip],
      ],
      { part: `${path} rim ${way > 0 ? "above" : "below"}` },
    );
  }
  const x = sign * face.at;
  draft.line(face.known ? "outline" : "unknown", [x, corner.flange], [x, -corner.flange], {
    part: `${path} wheel face`,
  });
  draft.line("center", [sign * center.at, half * 1.04], [sign * center.at, -half * 1.04], {
    part: `${path} tire center`,
    open: true,
  });
}

/** Hat of the rotor, spacer, flange: what stands between shaft and wheel. */
function drawShaft(draft: Draft, figures: PictureFigures, axle: Thing, corner: Corner): void {
  const { sign, mount, face, flangeFace, half, path } = corner;
  const brake = figures.thing(axle, axleParts.brake);
  const hat = figures.of(brake, "hat_thickness");
  const rotor = figures.of(brake, "rotor_diameter");
  if (hat.known) {
    draft.rectangle(
      kindOf(flangeFace, mount),
      [sign * flangeFace.at, corner.flange],
      [sign * mount.at, -corner.flange],
      { part: `${path} hat`, hatch: 1.2 },
    );
  }
  // Where the rotor runs along the shaft a build does not say: only how far it reaches is known.
  if (rotor.known) {
    const x = sign * (flangeFace.at - 12);
    for (const way of [1, -1])
      draft.polyline(
        "unknown",
        [
          [sign * flangeFace.at, way * corner.flange],
          [x, way * corner.flange],
          [x, (way * rotor.mm) / 2],
        ],
        { part: `${path} rotor` },
      );
  }
  if (face.at - mount.at > 0.05)
    draft.rectangle(
      kindOf(mount, face),
      [sign * mount.at, corner.flange],
      [sign * face.at, -corner.flange],
      { part: `${path} spacer`, hatch: 1.2, turned: true },
    );
  const tip = corner.tip;
  const radius = (corner.shaftDiameter.known ? corner.shaftDiameter.mm : 30) / 2;
  draft.rectangle(
    tip.known && flangeFace.known ? "hidden" : "unknown",
    [tip.at, radius],
    [sign * flangeFace.at, -radius],
    { part: `${path} shaft` },
  );
  drawSpline(draft, corner, radius);
  drawCaliper(draft, figures.of(brake, "caliper_radius"), corner);
  draft.rectangle(
    kindOf(flangeFace),
    [sign * flangeFace.at, corner.flange],
    [sign * (flangeFace.at - 9), -corner.flange],
    { part: `${path} flange` },
  );
  if (half.known && flangeFace.known)
    draft.line("thin", [sign * half.at, corner.tube * 1.15], [sign * half.at, -corner.tube * 1.15]);
}

/** Teeth as thin lines along the shaft (ISO 6413, from memory), as far as the spline is long. */
function drawSpline(draft: Draft, { sign, tip, splineLength, path }: Corner, radius: number): void {
  if (!splineLength.known || !tip.known) return;
  const end = tip.at + sign * splineLength.mm;
  for (const share of [-0.6, -0.2, 0.2, 0.6])
    draft.line("thin", [tip.at, radius * share], [end, radius * share], {
      part: `${path} spline`,
    });
  draft.line("thin", [end, radius], [end, -radius], { part: `${path} spline's end` });
}

/** How far out it reaches is known, not where it stands along the shaft nor how high it is. */
function drawCaliper(draft: Draft, reach: PictureFigure, { sign, flangeFace, path }: Corner): void {
  if (!reach.known) return;
  const [near, far] = [sign * (flangeFace.at - 72), sign * (flangeFace.at + 6)];
  draft.rectangle("unknown", [near, reach.mm], [far, reach.mm - 58], { part: `${path} caliper` });
}

function drawHousing(
  draft: Draft,
  figures: PictureFigures,
  axle: Thing,
  sides: readonly Corner[],
): void {
  const housing = figures.thing(axle, axleParts.housing);
  const carrier = figures.thing(axle, axleParts.carrier);
  const center = figures.of(housing, "center_half_width");
  const shift = sides[0]?.housingCenter ?? 0;
  const wide = center.known ? center.mm : 200;
  for (const { sign, half, mark, tube, path } of sides) {
    const end = sign * half.at;
    const saw = shift + sign * mark.at;
    draft.rectangle(kindOf(half, mark), [end, tube * 1.15], [saw, -tube * 1.15], {
      part: `${path} housing end`,
      hatch: 1.6,
    });
    draft.rectangle(kindOf(mark, center), [saw, tube], [shift + sign * wide, -tube], {
      part: `${path} tube`,
    });
    draft.line(mark.known ? "heavy" : "unknown", [saw, tube * 1.35], [saw, -tube * 1.35], {
      part: `${path} saw line`,
    });
  }
  const high = (sides[0]?.tube ?? 40) * 2.6;
  draft.rectangle(center.known ? "thin" : "unknown", [shift - wide, high], [shift + wide, -high], {
    part: "center section",
    round: Math.min(wide, high) * 0.8,
  });
  const offset = figures.of(carrier, "offset");
  const pinion = shift + (offset.known ? offset.mm : 0);
  draft.circle(offset.known ? "thin" : "unknown", [pinion, 0], 28, { part: "pinion" });
  draft.line("center", [pinion, -high * 1.1], [pinion, high * 1.1], {
    part: "carrier center",
    open: true,
  });
  const ends = sides.map(({ sign, half }) => sign * half.at);
  draft.line("center", [Math.min(...ends) - 40, 0], [Math.max(...ends) + 40, 0], { open: true });
}

/** The nearest things inboard and outboard, and between them and the tire the gaps. */
function drawLimits(draft: Draft, corner: Corner): void {
  const { sign, diameter, path } = corner;
  const tall = diameter.at * 0.16;
  const pairs = [
    { limit: corner.innerLimit, wall: corner.inner, gap: corner.innerGap, way: -1, name: "inner" },
    { limit: corner.outerLimit, wall: corner.outer, gap: corner.outerGap, way: 1, name: "outer" },
  ];
  for (const { limit, wall, gap, way, name } of pairs) {
    if (!limit.known) {
      draft.miss(limit.figure.reading);
      continue;
    }
    const x = sign * limit.at;
    const y = name === "inner" ? 0 : diameter.at * 0.3;
    draft.rectangle("hatching", [x, y + tall], [x + sign * way * 14, y - tall], { hatch: 1.1 });
    draft.line("outline", [x, y + tall], [x, y - tall], {
      part: `${path} ${name} limit`,
      path: limit.figure.path,
    });
    if (!wall.known || !gap.known) continue;
    const to = sign * wall.at;
    // The gap itself: hatched closely where it is too small, plain otherwise; its ± is a band.
    if (gap.reading.tight === true)
      draft.rectangle("hatching", [x, y + tall], [to, y - tall], { hatch: 0.6, turned: true });
    if (gap.below + gap.above > 0.05) {
      const inward = way * sign;
      draft.rectangle(
        "band",
        [x - inward * (gap.mm + gap.above), y + tall * 0.7],
        [x - inward * (gap.mm - gap.below), y - tall * 0.7],
        { part: `${path} ${name} gap ±` },
      );
    }
  }
}

/** Points of the body at other heights, the tub, the fender's edge; end positions where they count. */
function drawBody(
  draft: Draft,
  figures: PictureFigures,
  axle: Thing,
  corner: Corner,
  names: boolean,
): void {
  const { sign, thing, diameter, center, path } = corner;
  const body = figures.thing(thing, "body");
  const tub = figures.of(body, "tub_room");
  if (tub.known) {
    const half = (corner.outer.at - corner.inner.at) / 2;
    const from: Point = [sign * (center.at - half), tub.mm];
    const to: Point = [sign * (center.at + half), tub.mm];
    draft.line("outline", from, to, { part: `${path} tub`, path: tub.path });
    draft.rectangle("hatching", from, [to[0], tub.mm + 14], { hatch: 1.1 });
  }
  const edge = figures.of(body, "fender_edge");
  if (edge.known) {
    const x = sign * edge.mm;
    draft.line("thin", [x, diameter.at * 0.47], [x, diameter.at * 0.34], {
      part: `${path} fender edge`,
      path: edge.path,
    });
    if (names)
      draft.note({ at: [x, diameter.at * 0.47], reading: named(edge, `fender ${edge.value}`) });
  }
  const points = figures.analysis.things.filter(
    (each) => each.is(kinds.bodyLimit) && each.path.startsWith(`${thing?.path ?? axle.path}.`),
  );
  for (const point of points) {
    const place = figures.of(point, "place");
    const height = figures.of(point, "height");
    if (!place.known || !height.known || !diameter.known) {
      draft.miss(place.known ? height.reading : place.reading);
      continue;
    }
    const x = sign * place.mm;
    const y = height.mm - diameter.at / 2;
    const size = 9;
    draft.polyline("outline", [
      [x - size, y],
      [x + size, y],
    ]);
    draft.polyline(
      "outline",
      [
        [x, y - size],
        [x, y + size],
      ],
      { part: `${point.path}`, path: place.path },
    );
    const at = figures.word(point, "at");
    const gap = figures.of(point, "gap");
    const when = at === undefined || at === "ride" ? "" : ` (${at})`;
    const text = `${titleOf(point, point.name)}${when}: ${gap.known ? gap.value : "?"}`;
    if (names) draft.note({ at: [x, y], reading: named(gap, text) });
    const rise = figures.of(body, at === "bump" ? "bump_travel" : "droop_travel");
    if (at !== undefined && at !== "ride" && rise.known) {
      const up = at === "bump" ? rise.mm : -rise.mm;
      const half = diameter.at / 2;
      draft.rectangle(
        "phantom",
        [sign * corner.inner.at, half + up],
        [sign * corner.outer.at, -half + up],
        { part: `${path} tire in ${at}`, round: half * 0.2, open: true },
      );
    }
  }
}

/** The same axle by another reading: tires and housing ends in their places there. */
function drawOver(draft: Draft, over: PictureFigures, axle: Thing): void {
  const same = over.analysis.thingAt(axle.path);
  if (same === undefined) return;
  for (const { sign, inner, outer, half, diameter, tube, path } of sidesOf(over, same)) {
    if (inner.known && outer.known && diameter.known)
      draft.rectangle(
        "phantom",
        [sign * inner.at, diameter.at / 2],
        [sign * outer.at, -diameter.at / 2],
        { part: `${path} tire as built`, round: diameter.at * 0.1 },
      );
    if (half.known)
      draft.line("phantom", [sign * half.at, tube * 1.6], [sign * half.at, -tube * 1.6], {
        part: `${path} housing end as built`,
      });
  }
  draft.remarks.push("double-dotted: as built, where the records measured it");
}
