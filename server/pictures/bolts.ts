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
  const inLine = joint.pattern === "line";
  for (const [index, order] of groups.entries()) {
    const shift = index * (ring * 2 + 34);
    const places = [...order].sort((one, other) => one - other);
    const at = (place: number): Point => {
      const nth = places.indexOf(place);
      return inLine
        ? [shift + (nth - (places.length - 1) / 2) * Math.min(18, 130 / places.length), 0]
        : onRing(shift, nth, places.length);
    };
    const size = Math.min(5, inLine ? 60 / places.length : (Math.PI * ring) / places.length - 0.8);
    if (!inLine) draft.circle("centre", [shift, 0], ring, { part: `pitch circle ${index + 1}` });
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
      const [dx, dy] = inLine ? [0, -1] : [(x - shift) / ring, y / ring];
      draft.letters({
        at: [x + dx * away, y + dy * away],
        text: String(place),
        height: 1.8,
      });
    }
  }
  draft.remarks.push(
    `in the bolt: its turn; beside it: its place, ${inLine ? "along the line" : "clockwise from the top"}${groups.length > 1 ? "; each group by itself" : ""}`,
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

function onRing(shift: number, nth: number, count: number): Point {
  const angle = (2 * Math.PI * nth) / count;
  return [shift + ring * Math.sin(angle), ring * Math.cos(angle)];
}

function passLine(pass: PlannedPass, writer: FigureWriter): string {
  const share = `pass ${pass.number}: ${Math.round(pass.share * 100)} %`;
  const torque = pass.torque === undefined ? "" : `, ${writer.torque(pass.torque)}`;
  const setting =
    pass.setting === undefined || pass.setting === pass.torque
      ? ""
      : `, wrench set to ${writer.torque(pass.setting)}`;
  return `${share}${torque}${setting}${pass.circular ? ", once round in a circle" : ""}`;
}
