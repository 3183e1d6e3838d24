/**
 * What an axle seen from behind is measured and named by: gaps, limits, saw lines and shafts of each
 * side, the whole widths, tire and wheel.
 *
 * Must not know: how the parts are drawn, paper.
 */
import type { Draft, Point } from "../drafting";
import type { Thing } from "../model/thing";
import type { Corner, Place } from "./corner";
import { type Figure, type Figures, named, titleOf, words } from "./figures";
import { axleParts } from "./vocabulary";

export function measureSide(draft: Draft, corner: Corner): void {
  const {
    sign,
    inner,
    outer,
    half,
    mark,
    tube,
    diameter,
    flangeFace,
    tip,
    figures: known,
  } = corner;
  const shift = corner.housingCentre;
  const high = diameter.at * 0.16;
  const out = (at: number, y: number): Point => [sign * at, y];
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

export function measureWhole(
  draft: Draft,
  figures: Figures,
  axle: Thing,
  housing: Thing | undefined,
  sides: readonly Corner[],
): void {
  const [left, right] = sides;
  if (left === undefined || right === undefined) return;
  const across = (
    side: "above" | "below",
    place: (corner: Corner) => Place,
    y: (corner: Corner) => number,
    figure: Figure,
  ): void =>
    draft.dimension({
      side,
      from: [-place(left).at, y(left)],
      to: [place(right).at, y(right)],
      reading: figure.reading,
    });
  across(
    "below",
    ({ half }) => half,
    ({ tube }) => -tube * 1.15,
    figures.of(housing, "face_to_face", "housing"),
  );
  across(
    "below",
    ({ mount }) => mount,
    ({ flange }) => -flange,
    figures.of(axle, "mount_width", "wheel mounting faces"),
  );
  across(
    "below",
    ({ center }) => center,
    ({ diameter }) => -diameter.at / 2,
    figures.of(axle, "track", "track"),
  );
  across(
    "above",
    ({ outer }) => outer,
    ({ diameter }) => diameter.at * 0.2,
    figures.of(axle, "overall_width", "over the tires"),
  );
  const { diameter, outer } = right;
  draft.dimension({
    side: "right",
    from: [outer.at - (outer.at - right.inner.at) * 0.3, -diameter.at / 2],
    to: [outer.at - (outer.at - right.inner.at) * 0.3, diameter.at / 2],
    reading: diameter.figure.reading,
  });
}

export function nameParts(
  draft: Draft,
  figures: Figures,
  axle: Thing,
  [left, right]: readonly Corner[],
): void {
  if (left === undefined || right === undefined) return;
  const tire = figures.thing(axle, axleParts.tire);
  const wheel = figures.thing(axle, axleParts.wheel);
  const size = (thing: Thing | undefined): string => figures.word(thing, "size") ?? "";
  const tireText = `${titleOf(tire, "tire")} ${size(tire)}`.trim();
  draft.note({
    at: [-(left.inner.at + left.outer.at) / 2, left.diameter.at * 0.42],
    reading: words(tireText),
  });
  const offset = figures.of(wheel, "offset");
  draft.note({
    at: [left.sign * left.face.at, left.flange * 0.9],
    reading: named(
      offset,
      `${`${titleOf(wheel, "wheel")} ${size(wheel)}`.trim()}, offset ${offset.value}`,
    ),
  });
  const carrier = figures.of(figures.thing(axle, axleParts.carrier), "offset");
  if (carrier.path !== "")
    draft.note({
      at: [left.housingCentre + (carrier.known ? carrier.mm : 0) + 20, 20],
      reading: named(carrier, `carrier offset ${carrier.value}`),
    });
}
