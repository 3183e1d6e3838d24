/**
 * Templates at full size: bolt circles to drill by, bands to wrap round a tube's end, strips to lay
 * on a tube from its end to the saw line. Each carries bars to measure the printer by.
 *
 *     boltCircle(figures, hub)   →   a draft at 1:1
 *
 * Must not know: paper, printers, cutting tables.
 */
import { Draft, type Point } from "../drafting";
import type { Thing } from "../model/thing";
import { type PictureFigure, type PictureFigures, titleOf } from "./figures";
import { axleParts } from "./vocabulary";

const inch = 25.4;
/** As long as a page is wide, with room for the edges. */
const longest = 130;

export function boltCircle(figures: PictureFigures, thing: Thing): Draft {
  const draft = new Draft(
    `${titleOf(thing, thing.kind.title)}: bolt circle`,
    "Holes of the bolt circle at full size, their centers crossed, the pilot inside.",
  );
  const circle = figures.of(thing, "stud_circle.diameter", "pitch circle Ø");
  const count = figures.of(thing, "stud_circle.count");
  const hole = figures.of(thing, "stud_diameter");
  const pilot = firstKnown(figures, thing, ["pilot", "center_bore"]);
  if (!circle.known || !count.known || count.si > 24) {
    draft.miss(circle.reading);
    return draft;
  }
  const radius = circle.mm / 2;
  const size = hole.known ? hole.mm / 2 : 3;
  draft.circle("center", [0, 0], radius, { part: "pitch circle", path: circle.path });
  if (pilot?.known === true) {
    draft.circle("outline", [0, 0], pilot.mm / 2, { part: "pilot", path: pilot.path });
    draft.remarks.push(`pilot Ø ${pilot.value}`);
  }
  const places = Math.round(count.si);
  for (let place = 0; place < places; place++) {
    const angle = (2 * Math.PI * place) / places;
    const at: Point = [radius * Math.sin(angle), radius * Math.cos(angle)];
    draft.circle(hole.known ? "outline" : "unknown", at, size, { part: `hole ${place + 1}` });
    cross(draft, at, size + 4);
  }
  cross(draft, [0, 0], 12);
  draft.remarks.push(circle.reading.text);
  draft.remarks.push(
    hole.known
      ? `holes drawn at the stud's own diameter, ${hole.value}: drill as the stud's maker says`
      : "small circles mark the centers alone: no diameter is stated",
  );
  bars(draft, -radius - 24, -50);
  return draft;
}

/** A band round the tube: its edge is the saw line, its marks the quarters. */
export function tubeBand(figures: PictureFigures, housing: Thing): Draft {
  const draft = new Draft(
    `${titleOf(housing, housing.kind.title)}: band for the tube's end`,
    "A strip as long as the tube is round; wrapped round it square, its straight edge is the saw line.",
  );
  const diameter = figures.of(housing, "tube_diameter", "tube Ø");
  if (!diameter.known) {
    draft.miss(diameter.reading);
    return draft;
  }
  const around = Math.PI * diameter.mm;
  const pieces = Math.ceil(around / longest);
  const quarters = [0, 0.25, 0.5, 0.75, 1].map((share) => share * around);
  for (let piece = 0; piece < pieces; piece++) {
    const from = (around / pieces) * piece;
    const to = (around / pieces) * (piece + 1);
    const y = -piece * 46;
    draft.rectangle("outline", [0, y], [to - from, y - 24], { part: `band ${piece + 1}` });
    // Glued edge to edge, or onto the next one's tab.
    draft.rectangle("hidden", [to - from, y], [to - from + 10, y - 24], {
      part: `tab ${piece + 1}`,
    });
    for (const [index, at] of quarters.entries()) {
      if (at < from - 0.001 || at > to + 0.001) continue;
      const x = at - from;
      draft.line("thin", [x, y], [x, y - 24], { part: `quarter ${index}` });
      draft.letters({ at: [x + 1.5, y - 20], text: `${index * 90}°`, from: "start", height: 1.8 });
    }
    draft.letters({
      at: [4, y - 4],
      text: `saw line, piece ${piece + 1}`,
      from: "start",
      height: 1.8,
    });
  }
  draft.note({ at: [longest / 4, -24 - (pieces - 1) * 46], reading: diameter.reading });
  draft.remarks.push(
    "wrap it round the tube: the ends must meet without a step, else the cut is not square",
  );
  bars(draft, -(pieces - 1) * 46 - 60);
  return draft;
}

/** Laid on the tube with one end flush with the tube's own: the other is the saw line. */
export function sawStrip(figures: PictureFigures, corner: Thing): Draft {
  const draft = new Draft(
    `${corner.owner === undefined ? "" : `${titleOf(corner.owner, "axle")}, `}${corner.name}: strip from the tube's end to the saw line`,
    "A strip as long as what is cut off, kerf included; flush with the tube's end it ends at the saw line.",
  );
  const end = figures.of(corner, "tube_end");
  const mark = figures.of(corner, "tube_mark");
  const offcut = figures.of(corner, "offcut", "offcut");
  const housing = figures.thing(corner.owner, axleParts.housing);
  const kerf = figures.of(housing, "kerf");
  if (!end.known || !mark.known || end.mm <= mark.mm) {
    draft.miss(end.known ? mark.reading : end.reading);
    return draft;
  }
  const length = end.mm - mark.mm;
  const pieces = Math.ceil(length / longest);
  for (let piece = 0; piece < pieces; piece++) {
    const size = length / pieces;
    const y = -piece * 40;
    draft.rectangle("outline", [0, y], [size, y - 20], { part: `strip ${piece + 1}` });
    const text =
      pieces === 1 ? "this end flush with the tube's end" : `piece ${piece + 1} of ${pieces}`;
    draft.letters({ at: [size - 2, y - 4], text, from: "end", height: 1.8 });
    if (piece === 0) {
      draft.line("heavy", [0, y + 6], [0, y - 26], { part: "saw line", path: mark.path });
      if (kerf.known) draft.rectangle("hatching", [0, y], [kerf.mm, y - 20], { hatch: 0.6 });
      draft.letters({ at: [3, y - 14], text: "saw line", from: "start", height: 1.8 });
    }
  }
  draft.note({ at: [length / pieces / 2, -20 - (pieces - 1) * 40], reading: offcut.reading });
  bars(draft, -(pieces - 1) * 40 - 54);
  return draft;
}

// ───────────────────────────── helpers ─────────────────────────────

function firstKnown(
  figures: PictureFigures,
  thing: Thing,
  fields: readonly string[],
): PictureFigure | undefined {
  return fields.map((field) => figures.of(thing, field)).find(({ known }) => known);
}

function cross(draft: Draft, [x, y]: Point, reach: number): void {
  draft.line("thin", [x - reach, y], [x + reach, y], { part: "cross" });
  draft.line("thin", [x, y - reach], [x, y + reach], { part: "cross" });
}

/** 100 mm and 4 in: what a ruler must read on the printed page. */
function bars(draft: Draft, y: number, from = 0): void {
  draft.remarks.push("measure both bars with a ruler: print at 100 %, not fitted to the page");
  for (const [length, text, step] of [
    [100, "100 mm", 10],
    [4 * inch, "4 in", inch],
  ] as const) {
    const at = y - (step === 10 ? 0 : 10);
    draft.line("outline", [from, at], [from + length, at], { part: `bar ${text}` });
    for (let x = 0; x <= length + 0.001; x += step)
      draft.line("thin", [from + x, at + 3], [from + x, at - 3], { part: "bar tick" });
    draft.letters({ at: [from + length + 4, at], text, from: "start" });
  }
}
