/**
 * A driveshaft with its joints in side view and in plan, to scale: every piece from the gearbox back
 * at ride height, the last one at full bump and full droop, the output shaft and the pinion at their
 * slopes in both planes, the joints' angles, support bearings.
 *
 *     driveline(figures, shaft)   →   a draft in millimeters, x rearward from the first joint
 *
 * The front of the vehicle is to the left. Where the build is in inches the plan stands above the
 * side view (third angle projection), else below it (first angle): ISO 5456-2 (from memory).
 * Slopes are positive where a shaft falls toward the rear, plan angles where it runs to the right, as
 * in the library.
 *
 * Must not know: scales, paper.
 */
import { Draft, type Point } from "../drafting";
import type { Thing } from "../model/thing";
import { named, type PictureFigure, type PictureFigures, titleOf, words } from "./figures";
import { pieces as names } from "./vocabulary";

const stub = 140;
const jointRadius = 26;
/** Stand-ins for what is not known, mm: they keep the order of the parts and nothing more. */
const usual = { run: 1200, drop: 80, diameter: 76 };

export function driveline(figures: PictureFigures, shaft: Thing): Draft {
  const third = figures.analysis.style.system === "inch";
  const pieces = piecesUpTo(figures, shaft);
  const draft = new Draft(
    titleOf(shaft, shaft.kind.title),
    "Side view and plan; the front of the vehicle is to the left.",
  );
  const falls = pieces.flatMap(({ front, rear }) => [front.down, rear.down]);
  const apart = Math.max(260, Math.max(...falls) - Math.min(...falls) + 260) * (third ? 1 : -1);
  drawSide(draft, pieces);
  drawPlan(draft, pieces, apart);
  draft.remarks.push(
    third
      ? "third angle projection: the plan stands above"
      : "first angle projection: the plan stands below",
    "double-dotted: at full bump and full droop",
  );
  return draft;
}

// ───────────────────────────── helpers ─────────────────────────────

type Own = (field: string, name?: string) => PictureFigure;

/** Where a joint's center is: rearward, down and to the right of the first one, mm. */
interface Place {
  readonly back: number;
  readonly down: number;
  readonly right: number;
}

interface Piece {
  readonly own: Own;
  /** Before the names of its parts where there are several; else empty. */
  readonly called: string;
  readonly front: Place;
  readonly rear: Place;
  /** Whether both ends stand where the build says, in side view and in plan. */
  readonly sideKnown: boolean;
  readonly planKnown: boolean;
  readonly radius: number;
  readonly tubeKnown: boolean;
  readonly bearing: boolean;
}

/** From the gearbox back to this one; a chain that closes on itself ends where it does. */
function piecesUpTo(figures: PictureFigures, shaft: Thing): readonly Piece[] {
  const chain: Thing[] = [];
  for (
    let at: Thing | undefined = shaft;
    at !== undefined && !chain.includes(at);
    at = figures.thing(at, names.ahead)
  )
    chain.unshift(at);
  let front: Place = { back: 0, down: 0, right: 0 };
  let [sideKnown, planKnown] = [true, true];
  return chain.map((thing): Piece => {
    const own: Own = (field, name = "") => figures.of(thing, field, name);
    const [run, drop, side] = [own("run"), own("drop"), own("side")];
    const tube = own("tube_diameter");
    sideKnown &&= run.known && drop.known;
    planKnown &&= run.known && side.known;
    const rear = {
      back: front.back + (run.known ? run.mm : usual.run),
      down: front.down + (drop.known ? drop.mm : usual.drop),
      right: front.right + (side.known ? side.mm : 0),
    };
    const piece = {
      own,
      called: chain.length === 1 ? "" : `${titleOf(thing, thing.kind.title)}, `,
      front,
      rear,
      sideKnown,
      planKnown,
      radius: (tube.known ? tube.mm : usual.diameter) / 2,
      tubeKnown: tube.known,
      bearing: figures.word(thing, names.endsAt) === names.bearing,
    };
    front = rear;
    return piece;
  });
}

const fromTheSide = ({ back, down }: Place): Point => [back, -down];

function drawSide(draft: Draft, pieces: readonly Piece[]): void {
  for (const piece of pieces) {
    const { own, called, sideKnown: known, radius } = piece;
    const [front, rear] = [fromTheSide(piece.front), fromTheSide(piece.rear)];
    drawTube(draft, front, rear, radius, known && piece.tubeKnown, `${called}shaft, side view`);
    drawTravel(draft, piece);
    for (const [point, field, name] of [
      [front, "front_angle", "front joint"],
      ...(piece.bearing ? [] : [[rear, "rear_angle", "rear joint"] as const]),
    ] as const) {
      draft.circle(known ? "outline" : "unknown", point, jointRadius, { part: `${called}${name}` });
      draft.note({ at: [point[0], point[1] + jointRadius], reading: own(field, name).reading });
    }
    if (piece.bearing) drawBearing(draft, rear, radius, `${called}support bearing`);
    draft.note({
      at: [(front[0] + rear[0]) / 2, (front[1] + rear[1]) / 2 - radius],
      reading: own("length", "joint to joint").reading,
    });
    const low = Math.min(front[1], rear[1], -Math.max(piece.rear.down, 0)) - jointRadius;
    draft.dimension({
      side: "below",
      from: [front[0], low],
      to: [rear[0], low],
      reading: own("run", "run").reading,
    });
    draft.dimension({
      side: "right",
      from: front,
      to: rear,
      reading: own("drop", "drop").reading,
    });
  }
  const [first, last] = [pieces[0], pieces[pieces.length - 1]];
  if (first === undefined || last === undefined) return;
  const output = first.own("output_slope", "output");
  drawStub(draft, [0, 0], output, -1, "output shaft");
  draft.note({ at: [-stub * 0.8, rise(output, stub * 0.8)], reading: output.reading });
  if (last.bearing) return;
  const driven = last.own("driven_slope", "pinion, under drive");
  const pinion = driven.known ? driven : last.own("pinion_slope", "pinion, standing");
  const [x, y] = fromTheSide(last.rear);
  drawStub(draft, [x, y], pinion, 1, "pinion");
  draft.note({ at: [x + stub * 0.8, y - rise(pinion, stub * 0.8)], reading: pinion.reading });
}

/** Where the axle carries its rear end up and down. */
function drawTravel(draft: Draft, { own, front, rear, sideKnown, called }: Piece): void {
  if (!sideKnown) return;
  for (const [name, shift, turn] of [
    ["bump", "bump_shift", 1],
    ["droop", "droop_shift", -1],
  ] as const) {
    const travel = own(name);
    const moved = own(shift);
    if (!travel.known) continue;
    const end: Point = [rear.back + (moved.known ? moved.mm : 0), -rear.down + turn * travel.mm];
    draft.line("phantom", fromTheSide(front), end, { part: `${called}shaft at ${name}` });
    draft.circle("phantom", end, jointRadius * 0.6, { part: `${called}rear joint at ${name}` });
    draft.note({
      at: end,
      reading: named(own(`${name}_rear_angle`), `in ${name} ${own(`${name}_rear_angle`).value}`),
    });
  }
}

function drawPlan(draft: Draft, pieces: readonly Piece[], base: number): void {
  // Seen from above with the front to the left, the vehicle's right is up.
  const fromAbove = ({ back, right }: Place): Point => [back, base + right];
  const [first, last] = [pieces[0], pieces[pieces.length - 1]];
  if (first === undefined || last === undefined) return;
  for (const piece of pieces) {
    const [front, rear] = [fromAbove(piece.front), fromAbove(piece.rear)];
    const { own, called, planKnown: known } = piece;
    drawTube(draft, front, rear, piece.radius, known, `${called}shaft, plan`);
    draft.circle(known ? "outline" : "unknown", front, jointRadius);
    if (piece.bearing) drawBearing(draft, rear, piece.radius, `${called}support bearing, plan`);
    else draft.circle(known ? "outline" : "unknown", rear, jointRadius);
    const side = own("side", "to the right");
    if (side.known && Math.abs(side.mm) > 0.05)
      draft.dimension({ side: "left", from: front, to: rear, reading: side.reading });
  }
  const end = fromAbove(last.rear);
  draft.line("center", [-stub, base], [end[0] + stub, base], { part: "along the vehicle" });
  const output = first.own("output_plan", "output, plan");
  drawStub(draft, [0, base], turnedOver(output), -1, "output shaft, plan");
  if (!last.bearing) {
    const pinion = last.own("pinion_plan", "pinion, plan");
    drawStub(draft, end, turnedOver(pinion), 1, "pinion, plan");
    if (pinion.known && Math.abs(pinion.si) > 1e-4)
      draft.note({ at: [end[0] + stub * 0.8, end[1]], reading: pinion.reading });
  }
  if (output.known && Math.abs(output.si) > 1e-4)
    draft.note({ at: [-stub * 0.8, base], reading: output.reading });
  draft.note({
    at: [end[0] * 0.25, base + first.radius],
    reading: words("plan, the vehicle's right is up"),
  });
}

/** A plan angle is positive to the right, which is up here; a slope is positive down. */
function turnedOver(angle: PictureFigure): PictureFigure {
  return { ...angle, si: -angle.si };
}

/** How far a shaft of that slope comes up over a length toward the front. */
function rise(slope: PictureFigure, length: number): number {
  return slope.known ? Math.tan(slope.si) * length : 0;
}

function drawStub(
  draft: Draft,
  from: Point,
  slope: PictureFigure,
  way: 1 | -1,
  part: string,
): void {
  const to: Point = [from[0] + way * stub, from[1] - way * rise(slope, stub)];
  draft.line(slope.known ? "outline" : "unknown", from, to, { part });
}

/** A support bearing cut through: a box on either side of the shaft, crossed. */
function drawBearing(draft: Draft, [x, y]: Point, radius: number, part: string): void {
  for (const way of [1, -1]) {
    const [near, far] = [y + way * radius * 0.6, y + way * (radius * 0.6 + 22)];
    draft.rectangle("outline", [x - 12, near], [x + 12, far], { part });
    draft.line("thin", [x - 12, near], [x + 12, far]);
    draft.line("thin", [x - 12, far], [x + 12, near]);
  }
}

function drawTube(
  draft: Draft,
  [x1, y1]: Point,
  [x2, y2]: Point,
  radius: number,
  known: boolean,
  part: string,
): void {
  const size = Math.hypot(x2 - x1, y2 - y1) || 1;
  const [nx, ny] = [(-(y2 - y1) / size) * radius, ((x2 - x1) / size) * radius];
  const [ux, uy] = [((x2 - x1) / size) * jointRadius, ((y2 - y1) / size) * jointRadius];
  draft.polygon(
    known ? "outline" : "unknown",
    [
      [x1 + ux + nx, y1 + uy + ny],
      [x2 - ux + nx, y2 - uy + ny],
      [x2 - ux - nx, y2 - uy - ny],
      [x1 + ux - nx, y1 + uy - ny],
    ],
    { part },
  );
  draft.line("center", [x1, y1], [x2, y2], { part: `${part}, axis` });
}
