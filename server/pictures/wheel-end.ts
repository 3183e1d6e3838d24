/**
 * Half section of one wheel end, to scale: shaft flange, hat, spacer, wheel face with its offset,
 * barrel against the caliper, studs, the housing's end and tube. The axle's own axis is the chain
 * line at the bottom; outboard is to the right whichever side it is.
 *
 *     wheelEnd(figures, corner)   →   a draft in millimeters, x from the vehicle's centerline
 *
 * Must not know: scales, paper.
 */
import { Draft, type Point } from "../drafting";
import type { Thing } from "../model/thing";
import { type Corner, cornerOf } from "./corner";
import { named, type PictureFigures, titleOf, words } from "./figures";
import { axleParts, kinds } from "./vocabulary";

export function wheelEnd(figures: PictureFigures, thing: Thing): Draft {
  const axle = thing.owner ?? thing;
  const corner = cornerOf(figures, axle, thing.name, 1);
  const draft = new Draft(
    `${titleOf(axle, axle.kind.title)}, ${thing.name} wheel end`,
    "Half section through the axle's axis; outboard is to the right.",
  );
  const housing = figures.thing(axle, axleParts.housing);
  const wheel = figures.thing(axle, axleParts.wheel);
  const brake = figures.thing(axle, axleParts.brake);
  const hub = figures.thing(axle, axleParts.hub);
  drawTube(draft, figures, housing, corner);
  drawBearing(draft, figures, axle, housing, corner);
  drawFlange(draft, figures, corner, { hub, brake, wheel });
  drawWheel(draft, figures, corner, wheel);
  drawCaliper(draft, figures, corner, { brake, wheel });
  const left = Math.min(corner.half.at - 60, corner.center.at - corner.rim.overall.at / 2 - 30);
  const right = corner.outer.at + 20;
  draft.line("center", [left, 0], [right, 0], { open: true, part: "axis" });
  draft.line(
    "center",
    [corner.center.at, corner.rim.radius.at * 0.8],
    [corner.center.at, corner.diameter.at / 2 + 15],
    { open: true, part: "tire center" },
  );
  return draft;
}

// ───────────────────────────── helpers ─────────────────────────────

function drawTube(
  draft: Draft,
  figures: PictureFigures,
  housing: Thing | undefined,
  corner: Corner,
): void {
  const diameter = figures.of(housing, "tube_diameter");
  const wall = figures.of(housing, "tube_wall");
  const outer = corner.tube;
  const thick = wall.known ? wall.mm : 6;
  const saw = corner.sign * corner.housingCenter + corner.mark.at;
  const far = saw - 70;
  draft.rectangle(
    diameter.known && wall.known && corner.mark.known ? "outline" : "unknown",
    [far, outer],
    [saw, outer - thick],
    { part: "tube wall", hatch: 1.4 },
  );
  draft.rectangle(
    corner.half.known && corner.mark.known ? "outline" : "unknown",
    [saw, outer * 1.2],
    [corner.half.at, outer - thick],
    { part: "housing end", hatch: 1.4, turned: true },
  );
  draft.note({
    at: [saw - 40, outer - thick / 2],
    reading: named(diameter, `tube Ø ${diameter.value}, wall ${wall.value}`),
  });
}

/**
 * Bearing and seal: as far as a wheel end of the build says, its bore and the outer face it is
 * pressed to; how wide it is and where the seal sits nothing states.
 */
function drawBearing(
  draft: Draft,
  figures: PictureFigures,
  axle: Thing,
  housing: Thing | undefined,
  corner: Corner,
): void {
  const end = figures.analysis.things.find(
    (thing) => thing.is(kinds.wheelEnd) && figures.thing(thing, axleParts.axle)?.path === axle.path,
  );
  const wall = figures.of(housing, "tube_wall");
  const outer = corner.tube - (wall.known ? wall.mm : 6);
  const pressed = figures.of(end, "press_distance", "bearing's outer face");
  const seat = figures.of(end, "seat_diameter", "seat Ø");
  const known = pressed.known && seat.known && corner.flangeFace.known;
  const face = known ? corner.flangeFace.at - pressed.mm : corner.half.at - 2;
  const inner = seat.known ? seat.mm / 2 : corner.tube * 0.45;
  draft.rectangle("unknown", [face - 16, outer], [face, inner], { part: "bearing" });
  draft.line("unknown", [face - 16, outer], [face, inner]);
  draft.line("unknown", [face - 22, outer], [face - 22, inner], { part: "seal" });
  if (!known) {
    draft.note({
      at: [face - 8, (inner + outer) / 2],
      reading: words("bearing and seal: place not stated", true),
    });
    return;
  }
  draft.line("outline", [face, outer], [face, inner], {
    part: "outer face of the bearing",
    path: pressed.path,
  });
  draft.line("outline", [face - 16, inner], [face, inner], { part: "seat of the bearing" });
  draft.note({ at: [face - 8, inner], reading: seat.reading });
  draft.dimension({
    side: "below",
    from: [face, inner],
    to: [corner.flangeFace.at, 22],
    reading: pressed.reading,
  });
}

interface Parts {
  readonly hub?: Thing | undefined;
  readonly brake: Thing | undefined;
  readonly wheel: Thing | undefined;
}

function drawFlange(
  draft: Draft,
  figures: PictureFigures,
  corner: Corner,
  { hub, brake, wheel }: Parts,
): void {
  const { flangeFace, mount, face, half, flange } = corner;
  const hat = figures.of(brake, "hat_thickness", "hat");
  const standoff = corner.flangeFace.figure;
  const shaft = corner.shaftDiameter.known ? corner.shaftDiameter.mm / 2 : 16;
  draft.polyline(
    flangeFace.known ? "outline" : "unknown",
    [
      [half.at - 60, shaft],
      [flangeFace.at - 10, shaft],
      [flangeFace.at - 10, flange],
      [flangeFace.at, flange],
      [flangeFace.at, 0],
    ],
    { part: "shaft and flange" },
  );
  if (hat.known)
    draft.rectangle(
      flangeFace.known && mount.known ? "outline" : "unknown",
      [flangeFace.at, flange],
      [mount.at, 22],
      { part: "hat", hatch: 1 },
    );
  if (face.at - mount.at > 0.05)
    draft.rectangle(face.known ? "outline" : "unknown", [mount.at, flange], [face.at, 22], {
      part: "spacer",
      hatch: 1,
      turned: true,
    });
  const pad = figures.of(wheel, "pad_thickness", "pad");
  const thick = pad.known ? pad.mm : 12;
  draft.rectangle(
    pad.known && face.known ? "outline" : "unknown",
    [face.at, flange * 1.05],
    [face.at + thick, 22],
    { part: "wheel pad", hatch: 1.6, turned: true },
  );
  drawStud(draft, figures, corner, hub, face.at + thick);
  const low = -2;
  draft.dimension({
    side: "below",
    from: [half.at, low],
    to: [flangeFace.at, low],
    reading: { ...standoff.reading, text: `standoff ${standoff.reading.text}` },
  });
  draft.dimension({
    side: "below",
    from: [flangeFace.at, 22],
    to: [mount.at, 22],
    reading: hat.reading,
  });
  draft.dimension({
    side: "below",
    from: [face.at, 22],
    to: [face.at + thick, 22],
    reading: pad.reading,
  });
  if (face.at - mount.at > 0.05 || !face.known)
    draft.dimension({
      side: "below",
      from: [mount.at, flange],
      to: [face.at, flange],
      reading: corner.figures("spacer", "spacer"),
    });
}

function drawStud(
  draft: Draft,
  figures: PictureFigures,
  { flangeFace }: Corner,
  hub: Thing | undefined,
  seat: number,
): void {
  const circle = figures.of(hub, "stud_circle.diameter");
  const thread = figures.of(hub, "stud_diameter");
  const length = figures.of(hub, "stud_length");
  if (!circle.known) return;
  const y = circle.mm / 2;
  const radius = (thread.known ? thread.mm : 12) / 2;
  const end = flangeFace.at + (length.known ? length.mm : 40);
  draft.rectangle(
    thread.known && length.known ? "outline" : "unknown",
    [flangeFace.at - 10, y + radius],
    [end, y - radius],
    { part: "stud" },
  );
  draft.line("center", [flangeFace.at - 16, y], [end + 8, y], { open: true });
  // The nut's own size is not stated: drawn by habit, one and a half diameters across.
  draft.rectangle("unknown", [seat, y + radius * 1.6], [seat + radius * 3, y - radius * 1.6], {
    part: "nut",
  });
  draft.note({
    at: [end - 2, y],
    reading: named(
      circle,
      `${figures.word(hub, "stud_circle") ?? ""}, stud ${figures.word(hub, "stud_thread") ?? "?"} × ${length.value}`,
    ),
  });
}

function drawWheel(
  draft: Draft,
  figures: PictureFigures,
  corner: Corner,
  wheel: Thing | undefined,
): void {
  const { rim, center, face, inner, outer, diameter } = corner;
  const inside = center.at - rim.overall.at / 2;
  const outside = center.at + rim.overall.at / 2;
  const bead = rim.radius.at;
  const lip = bead + rim.lip;
  const kind = rim.known && center.known ? "outline" : "unknown";
  draft.polyline(
    kind,
    [
      [inside, lip],
      [inside, bead],
      [outside, bead],
      [outside, lip],
    ],
    { part: "rim" },
  );
  // From the pad to the barrel: how the disc is shaped nobody states.
  const disc: Point[] = [
    [face.at, corner.flange],
    [center.at + rim.overall.at * 0.2, bead * 0.9],
    [center.at + rim.overall.at * 0.2, bead],
  ];
  draft.polyline("unknown", disc, { part: "wheel disc" });
  const top = diameter.at / 2;
  draft.rectangle(
    inner.known && outer.known && diameter.known ? "outline" : "unknown",
    [inner.at, top],
    [outer.at, bead],
    { part: "tire", round: Math.min(top - bead, (outer.at - inner.at) / 2) * 0.55 },
  );
  const offset = figures.of(wheel, "offset", "offset");
  const above = top + 2;
  draft.dimension({
    side: "above",
    from: [center.at, above],
    to: [face.at, corner.flange],
    reading: offset.reading,
  });
  draft.dimension({
    side: "above",
    from: [inside, lip],
    to: [face.at, corner.flange],
    reading: figures.of(wheel, "backspace", "backspace").reading,
  });
  draft.dimension({
    side: "above",
    from: [inside, lip],
    to: [outside, lip],
    reading: figures.of(wheel, "overall_width", "over the flanges").reading,
  });
  draft.dimension({
    side: "above",
    from: [inner.at, (top + bead) / 2],
    to: [outer.at, (top + bead) / 2],
    reading: corner.figures("mounted_width", "tire as mounted"),
  });
  draft.note({
    at: [face.at, corner.flange * 0.2],
    reading: corner.figures("mount_face", "mounting face from the centerline"),
  });
}

function drawCaliper(
  draft: Draft,
  figures: PictureFigures,
  corner: Corner,
  { brake, wheel }: Parts,
): void {
  const reach = figures.of(brake, "caliper_radius", "caliper");
  const room = figures.of(wheel, "brake_room", "barrel inside");
  const rotor = figures.of(brake, "rotor_diameter", "rotor Ø");
  const thick = figures.of(brake, "rotor_thickness");
  const { flangeFace, center, rim } = corner;
  const inside = center.at - rim.overall.at / 2;
  const set = figures.of(brake, "rotor_inset", "rotor's middle");
  const placed = set.known && flangeFace.known;
  const x = flangeFace.at - (placed ? set.mm : 34);
  if (rotor.known) {
    const half = (thick.known ? thick.mm : 20) / 2;
    draft.rectangle(
      placed && thick.known ? "outline" : "unknown",
      [x - half, rotor.mm / 2],
      [x + half, rotor.mm / 2 - 50],
      { part: "rotor", hatch: 1.4 },
    );
    if (placed)
      draft.dimension({
        side: "below",
        from: [x, rotor.mm / 2 - 50],
        to: [flangeFace.at, 22],
        reading: set.reading,
      });
    draft.polyline("unknown", [
      [x + half, rotor.mm / 2 - 50],
      [flangeFace.at, rotor.mm / 2 - 50],
      [flangeFace.at, corner.flange],
    ]);
    draft.note({ at: [x, rotor.mm / 2 - 4], reading: named(rotor, `rotor Ø ${rotor.value}`) });
  }
  if (reach.known)
    draft.rectangle("unknown", [x - 45, reach.mm], [x + 40, reach.mm - 58], { part: "caliper" });
  if (room.known)
    draft.line("outline", [inside + 4, room.mm], [x + 55, room.mm], { part: "barrel inside" });
  for (const [figure, at] of [
    [reach, x - 45],
    [room, inside + 4],
  ] as const)
    if (figure.known)
      draft.dimension({
        side: "left",
        from: [at, 0],
        to: [at, figure.mm],
        reading: figure.reading,
      });
  if (rotor.known || reach.known)
    draft.remarks.push(
      placed
        ? "caliper: its radius is to scale, its place along the axis is not stated"
        : "rotor and caliper: their radii are to scale, their place along the axis is not stated",
    );
}
