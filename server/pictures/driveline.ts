/**
 * A driveshaft with its joints in side view and in plan, to scale: the shaft at ride height, at full
 * bump and full droop, the output shaft and the pinion at their slopes, the joints' angles.
 *
 *     driveline(figures, shaft)   →   a draft in millimetres, x rearward from the front joint
 *
 * The front of the vehicle is to the left. Where the build is in inches the plan stands above the
 * side view (third angle projection), else below it (first angle): ISO 5456-2 (from memory).
 * Slopes are positive where a shaft falls toward the rear, as in the library.
 *
 * Must not know: scales, paper.
 */
import { Draft, type Point } from "../drafting";
import type { Thing } from "../model/thing";
import { type Figure, type Figures, titleOf, words } from "./figures";

const stub = 140;
const jointRadius = 26;

export function driveline(figures: Figures, shaft: Thing): Draft {
  const own = (field: string, name = ""): Figure => figures.of(shaft, field, name);
  const third = figures.analysis.style.system === "inch";
  const draft = new Draft(
    titleOf(shaft, shaft.kind.title),
    "Side view and plan; the front of the vehicle is to the left.",
  );
  const run = own("run");
  const drop = own("drop");
  const length = run.known ? run.mm : 1200;
  const fall = drop.known ? drop.mm : 80;
  const apart = Math.max(260, Math.abs(fall) + 260) * (third ? 1 : -1);
  drawSide(draft, own, length, fall);
  drawPlan(draft, own, length, apart);
  draft.remarks.push(
    third
      ? "third angle projection: the plan stands above"
      : "first angle projection: the plan stands below",
    "double-dotted: at full bump and full droop",
  );
  return draft;
}

// ───────────────────────────── helpers ─────────────────────────────

type Own = (field: string, name?: string) => Figure;

function drawSide(draft: Draft, own: Own, run: number, drop: number): void {
  const front: Point = [0, 0];
  const rear: Point = [run, -drop];
  const known = own("run").known && own("drop").known;
  const tube = own("tube_diameter");
  const radius = (tube.known ? tube.mm : 76) / 2;
  drawTube(draft, front, rear, radius, known && tube.known, "shaft, side view");
  const output = own("output_slope", "output");
  const pinion = own("driven_slope");
  drawStub(draft, front, output, -1, "output shaft");
  drawStub(draft, rear, pinion.known ? pinion : own("pinion_slope"), 1, "pinion");
  for (const [name, shift, turn] of [
    ["bump", "bump_shift", 1],
    ["droop", "droop_shift", -1],
  ] as const) {
    const travel = own(name);
    const moved = own(shift);
    if (!travel.known || !known) continue;
    const end: Point = [run + (moved.known ? moved.mm : 0), -drop + turn * travel.mm];
    draft.line("phantom", front, end, { part: `shaft at ${name}` });
    draft.circle("phantom", end, jointRadius * 0.6, { part: `rear joint at ${name}` });
  }
  for (const [point, field, name] of [
    [front, "front_angle", "front joint"],
    [rear, "rear_angle", "rear joint"],
  ] as const) {
    draft.circle(known ? "outline" : "unknown", point, jointRadius, { part: name });
    draft.note({ at: [point[0], point[1] + jointRadius], reading: own(field, name).reading });
  }
  draft.note({ at: [-stub * 0.8, 0 + rise(output, stub * 0.8)], reading: output.reading });
  draft.note({
    at: [run + stub * 0.8, -drop - rise(pinion, stub * 0.8)],
    reading: pinion.known
      ? own("driven_slope", "pinion, under drive").reading
      : own("pinion_slope", "pinion, standing").reading,
  });
  draft.note({
    at: [run / 2, -drop / 2 - radius],
    reading: own("length", "joint to joint").reading,
  });
  const low = -Math.max(drop, 0) - jointRadius;
  draft.dimension({
    side: "below",
    from: [0, low],
    to: [run, low],
    reading: own("run", "run").reading,
  });
  draft.dimension({
    side: "right",
    from: [0, 0],
    to: [run, -drop],
    reading: own("drop", "drop").reading,
  });
}

function drawPlan(draft: Draft, own: Own, run: number, base: number): void {
  const side = own("side", "to the right");
  const tube = own("tube_diameter");
  const radius = (tube.known ? tube.mm : 76) / 2;
  const front: Point = [0, base];
  // Seen from above with the front to the left, the vehicle's right is up.
  const rear: Point = [run, base + (side.known ? side.mm : 0)];
  drawTube(draft, front, rear, radius, own("run").known && side.known, "shaft, plan");
  for (const point of [front, rear]) draft.circle("outline", point, jointRadius);
  draft.line("centre", [-stub, base], [run + stub, base], { part: "along the vehicle" });
  draft.line("outline", [-stub, base], front, { part: "output shaft, plan" });
  draft.line("outline", rear, [run + stub, rear[1]], { part: "pinion, plan" });
  draft.note({
    at: [run * 0.25, base + radius],
    reading: words("plan, the vehicle's right is up"),
  });
  if (side.known && Math.abs(side.mm) > 0.05)
    draft.dimension({ side: "left", from: front, to: rear, reading: side.reading });
}

/** How far a shaft of that slope comes up over a length toward the front. */
function rise(slope: Figure, length: number): number {
  return slope.known ? Math.tan(slope.si) * length : 0;
}

function drawStub(draft: Draft, from: Point, slope: Figure, way: 1 | -1, part: string): void {
  const to: Point = [from[0] + way * stub, from[1] - way * rise(slope, stub)];
  draft.line(slope.known ? "outline" : "unknown", from, to, { part });
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
  draft.line("centre", [x1, y1], [x2, y2], { part: `${part}, axis` });
}
