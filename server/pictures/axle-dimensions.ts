/**
 * What an axle seen from behind is measured and named by: gaps, limits, saw lines and shafts of each
 * side, the whole widths, tire and wheel.
 *
 * Must not know: how the parts are drawn, paper.
 */
import type { Draft, Point } from "../drafting";
import type { Thing } from "../model/thing";
import type { Corner } from "./corner";
import { named, type PictureFigures, titleOf, words } from "./figures";
import { axleParts } from "./vocabulary";

/** Limits and gaps of one side, above. */
export function measureTire(draft: Draft, corner: Corner): void {
  const { inner, outer, diameter, figures: known } = corner;
  const high = diameter.at * 0.16;
  const out = outward(corner);
  if (corner.innerLimit.known && inner.known)
    draft.dimension({
      side: "above",
      from: out(corner.innerLimit.at, high),
      to: out(inner.at, diameter.at * 0.2),
      reading: known("inner_gap", "gap"),
    });
  if (corner.outerLimit.known && outer.known)
    draft.dimension({
      side: "above",
      from: out(outer.at, diameter.at * 0.2),
      to: out(corner.outerLimit.at, diameter.at * 0.3 + high),
      reading: known("outer_gap", "gap"),
    });
  if (corner.innerLimit.known)
    draft.dimension({
      side: "above",
      from: [0, diameter.at / 2],
      to: out(corner.innerLimit.at, high),
      reading: known("inner_limit", "limit"),
    });
  if (corner.outerLimit.known)
    draft.dimension({
      side: "above",
      from: [0, diameter.at / 2],
      to: out(corner.outerLimit.at, diameter.at * 0.3 + high),
      reading: known("outer_limit", "limit"),
    });
}

/** Saw line, end face and shaft of one side, below. */
export function measureHousing(draft: Draft, corner: Corner): void {
  const { sign, half, mark, tube, flangeFace, tip, housingCenter: shift, figures: known } = corner;
  const out = outward(corner);
  draft.dimension({
    side: "below",
    from: [shift, -tube * 2.6],
    to: [shift + sign * mark.at, -tube * 1.35],
    reading: known("tube_mark", "saw line"),
  });
  draft.dimension({
    side: "below",
    from: [0, -tube],
    to: out(half.at, -tube * 1.15),
    reading: known("half", "end face"),
  });
  draft.dimension({
    side: "below",
    from: [tip.at, -15],
    to: out(flangeFace.at, -corner.flange),
    reading: known("shaft_length", "shaft"),
  });
}

/** Housing and mounting faces from side to side, and where the carrier stands. */
export function measureWidths(
  draft: Draft,
  figures: PictureFigures,
  axle: Thing,
  [left, right]: readonly Corner[],
): void {
  if (left === undefined || right === undefined) return;
  draft.dimension({
    side: "below",
    from: [-left.half.at, -left.tube * 1.15],
    to: [right.half.at, -right.tube * 1.15],
    reading: figures.of(figures.thing(axle, axleParts.housing), "face_to_face", "housing").reading,
  });
  draft.dimension({
    side: "below",
    from: [-left.mount.at, -left.flange],
    to: [right.mount.at, -right.flange],
    reading: figures.of(axle, "mount_width", "wheel mounting faces").reading,
  });
  const carrier = figures.of(figures.thing(axle, axleParts.carrier), "offset");
  if (carrier.path !== "")
    draft.note({
      at: [left.housingCenter + (carrier.known ? carrier.mm : 0) + 20, 20],
      reading: named(carrier, `carrier offset ${carrier.value}`),
    });
}

/** Track and width over the tires, and their diameter. */
export function measureTires(
  draft: Draft,
  figures: PictureFigures,
  axle: Thing,
  [left, right]: readonly Corner[],
): void {
  if (left === undefined || right === undefined) return;
  draft.dimension({
    side: "below",
    from: [-left.center.at, -left.diameter.at / 2],
    to: [right.center.at, -right.diameter.at / 2],
    reading: figures.of(axle, "track", "track").reading,
  });
  draft.dimension({
    side: "above",
    from: [-left.outer.at, left.diameter.at * 0.2],
    to: [right.outer.at, right.diameter.at * 0.2],
    reading: figures.of(axle, "overall_width", "over the tires").reading,
  });
  const { diameter, outer, inner } = right;
  const x = outer.at - (outer.at - inner.at) * 0.3;
  draft.dimension({
    side: "right",
    from: [x, -diameter.at / 2],
    to: [x, diameter.at / 2],
    reading: diameter.figure.reading,
  });
}

export function nameTires(
  draft: Draft,
  figures: PictureFigures,
  axle: Thing,
  [left]: readonly Corner[],
): void {
  if (left === undefined) return;
  const tire = figures.thing(axle, axleParts.tire);
  const wheel = figures.thing(axle, axleParts.wheel);
  const called = (thing: Thing | undefined, otherwise: string): string =>
    `${titleOf(thing, otherwise)} ${figures.word(thing, "size") ?? ""}`.trim();
  draft.note({
    at: [-(left.inner.at + left.outer.at) / 2, left.diameter.at * 0.42],
    reading: words(called(tire, "tire")),
  });
  const offset = figures.of(wheel, "offset");
  draft.note({
    at: [left.sign * left.face.at, left.flange * 0.9],
    reading: named(offset, `${called(wheel, "wheel")}, offset ${offset.value}`),
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function outward({ sign }: Corner): (at: number, y: number) => Point {
  return (at, y) => [sign * at, y];
}
