/**
 * The fasteners of a joint with their places and the order they are tightened in: the place beside
 * each, the turn in it, a thin line from each to the next. Below it the passes with what to set the
 * wrench to.
 *
 *     boltPattern(joint, writer)   →   a draft at 1:1, or nothing where there is no order to draw
 *
 * Places are counted clockwise from the top, or along the line. Not to the scale of the part: a
 * joint states how many bolts there are, seldom how far apart.
 *
 * Must not know: where the drawing goes.
 */
import { Draft, type Point } from "../drafting";
import type { FigureWriter, PlannedJoint, PlannedPass } from "../sequence";

const ring = 26;
const most = 60;

export function boltPattern(joint: PlannedJoint, writer: FigureWriter): Draft | undefined {
  const groups = joint.order.filter((order) => order.length > 0);
  if (joint.count < 1 || joint.count > most || groups.length === 0) return undefined;
  const draft = new Draft(joint.title, orderInWords(joint));
  const round = joint.pattern === "cross" || joint.pattern === "circle";
  const layout = spreadOut(joint.places);
  const [width, middle] = layout;
  let shift = 0;
  for (const [index, order] of groups.entries()) {
    const first = Math.min(...order);
    // Places are numbered through all groups; where each has coordinates there is one layout of all.
    const at = (place: number): Point => {
      const nth = joint.places.length >= joint.count ? place - 1 : place - first;
      const [x, y] = layout[2][nth] ?? [0, 0];
      return [shift + x, y];
    };
    const size = layout[3];
    if (round) draft.circle("center", [shift, 0], ring, { part: `pitch circle ${index + 1}` });
    draft.polyline("thin", order.map(at), { part: `order ${index + 1}` });
    for (const [turn, place] of order.entries()) {
      const [x, y] = at(place);
      draft.circle("bubble", [x, y], size, { part: `place ${place}` });
      draft.letters({
        at: [x, y],
        text: String(turn + 1),
        height: Math.max(1.8, Math.min(3.5, size * 0.8)),
        bold: true,
      });
      const away = size + 3;
      const [dx, dy] = outward([x - shift - middle[0], y - middle[1]], joint.pattern === "line");
      draft.letters({ at: [x + dx * away, y + dy * away], text: String(place), height: 1.8 });
    }
    shift += joint.places.length >= joint.count && groups.length > 1 ? 0 : width + 34;
  }
  draft.remarks.push(
    `in the bolt: its turn; beside it: its place, ${round ? "clockwise from the top" : "as the joint lists them"}`,
    ...joint.passes.map((pass) => passLine(pass, writer)),
    ...joint.notes,
  );
  return draft;
}

/** `places clockwise from the top: 1, 3, 5, 2, 4` */
export function orderInWords({ order, pattern }: Pick<PlannedJoint, "order" | "pattern">): string {
  const from = pattern === "line" ? "places along the line" : "places clockwise from the top";
  return `${from}: ${order.map((group) => group.join(", ")).join("; then ")}`;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Places brought to the size of the ring: their width, middle, points, and room for each bolt. */
function spreadOut(
  places: PlannedJoint["places"],
): readonly [width: number, middle: Point, points: readonly Point[], size: number] {
  const xs = places.map(({ x }) => x);
  const ys = places.map(({ y }) => y);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const largest = Math.max(right - left, high - low) || 1;
  const reach = Math.min(2 * ring, Math.max(18 * (places.length - 1), 1));
  const scale = (high - low < 1e-9 ? Math.min(reach, 130) : 2 * ring) / largest;
  const points = places.map(
    ({ x, y }): Point => [(x - (left + right) / 2) * scale, (y - (low + high) / 2) * scale],
  );
  let nearest = 2 * ring;
  for (const [index, [x, y]] of points.entries())
    for (const [x2, y2] of points.slice(index + 1))
      nearest = Math.min(nearest, Math.hypot(x2 - x, y2 - y));
  return [(right - left) * scale, [0, 0], points, Math.max(1.5, Math.min(5, nearest / 2 - 0.8))];
}

/** Away from the middle of the pattern; below a bolt that stands in line or in the middle. */
function outward([x, y]: Point, inLine: boolean): Point {
  const length = Math.hypot(x, y);
  return inLine || length < 0.5 ? [0, -1] : [x / length, y / length];
}

function passLine(pass: PlannedPass, writer: FigureWriter): string {
  const share = `pass ${pass.number}: ${Math.round(pass.share * 100)} %`;
  if (pass.turn !== undefined)
    return `pass ${pass.number}: each ${writer.figure(pass.turn, "angle")} further`;
  const torque = pass.torque === undefined ? "" : `, ${writer.torque(pass.torque)}`;
  const setting =
    pass.setting === undefined || pass.setting === pass.torque
      ? ""
      : `, wrench set to ${writer.torque(pass.setting)}`;
  return `${share}${torque}${setting}${pass.circular ? ", once round in a circle" : ""}`;
}
