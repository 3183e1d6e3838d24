/**
 * Where the saw goes: one strip for each side, the tube from the housing's center outward, a tape
 * beside it with its zero or burnt inch at the center, the mark, the kerf, the housing end where it
 * will stand, and what falls off.
 *
 *     sawMarks(figures, axle)   →   a draft in millimeters, x from the housing's center
 *
 * Both sides run from the center to the right, as one reads a tape. Must not know: scales, paper.
 */
import { ticks } from "d3-array";
import { Draft, type Point } from "../drafting";
import type { Thing } from "../model/thing";
import { cornerOf } from "./corner";
import { named, type PictureFigure, type PictureFigures, titleOf, words } from "./figures";
import { axleParts } from "./vocabulary";

const pitch = 300;
const inch = 25.4;

export function sawMarks(figures: PictureFigures, axle: Thing): Draft {
  const draft = new Draft(
    `${titleOf(axle, axle.kind.title)}: saw marks`,
    "Tube of each side from the housing's center outward, with the tape held as the build says.",
  );
  const housing = figures.thing(axle, axleParts.housing);
  const burn = figures.of(housing, "burn");
  for (const [row, [name, sign]] of (
    [
      [axleParts.left, -1],
      [axleParts.right, 1],
    ] as const
  ).entries())
    drawStrip(draft, figures, axle, name, sign, -row * pitch);
  draft.remarks.push(
    burn.known && burn.mm > 0.005
      ? `the tape is held with its ${burn.value} mark at the housing's center: what it reads there is taken off`
      : "the tape's zero is held at the housing's center",
    "hatched: scrap; the saw runs on the scrap side of the mark",
  );
  return draft;
}

// ───────────────────────────── helpers ─────────────────────────────

function drawStrip(
  draft: Draft,
  figures: PictureFigures,
  axle: Thing,
  name: string,
  sign: 1 | -1,
  base: number,
): void {
  const corner = cornerOf(figures, axle, name, sign);
  const housing = figures.thing(axle, axleParts.housing);
  const own = (field: string, spoken = ""): PictureFigure =>
    figures.of(corner.thing, field, spoken);
  const section = figures.of(housing, "center_half_width");
  const kerf = figures.of(housing, "kerf", "kerf");
  const burn = figures.of(housing, "burn");
  const gap = figures.of(housing, "root_gap", "root gap");
  const end = own("tube_end", "tube ends");
  const offcut = own("offcut", "offcut");
  const reading = own("tape_reading", "tape reads");
  const mark = corner.mark.at;
  const tube = corner.tube;
  const from = section.known ? section.mm : 0;
  const wide = kerf.known ? kerf.mm : 2;
  const last = end.known ? Math.max(end.mm, mark + wide) : mark + 120;
  const at = (x: number, y: number): Point => [x, base + y];
  draft.rectangle(corner.mark.known ? "outline" : "unknown", at(from, tube), at(mark, -tube), {
    part: `${corner.path} tube kept`,
  });
  draft.rectangle(
    end.known && corner.mark.known ? "outline" : "unknown",
    at(mark + wide, tube),
    at(last, -tube),
    { part: `${corner.path} offcut`, hatch: 2.2 },
  );
  draft.line(corner.mark.known ? "heavy" : "unknown", at(mark, tube * 1.5), at(mark, -tube * 1.5), {
    part: `${corner.path} saw line`,
    path: corner.mark.figure.path,
  });
  if (gap.known) {
    const length = figures.of(housing, "end_length");
    const start = mark + gap.mm;
    draft.rectangle(
      "phantom",
      at(start, tube * 1.2),
      at(start + (length.known ? length.mm : 50), -tube * 1.2),
      {
        part: `${corner.path} housing end to come`,
      },
    );
  }
  const tape = base - tube - 55;
  drawTape(draft, figures, housing, tape, last + 30);
  if (reading.known) {
    const zero = burn.known ? -burn.mm : 0;
    const x = zero + reading.mm;
    draft.line("heavy", [x, tape + 16], [x, tape - 16], {
      part: `${corner.path} tape at the saw line`,
      path: reading.path,
    });
  }
  draft.line("center", at(0, tube * 1.6), at(0, -tube - 95), { part: "housing center" });
  draft.note({ at: at(0, tube * 1.4), reading: words(`${name} side, housing's center`) });
  draft.note({ at: at(mark, tube * 1.5), reading: named(reading, `tape reads ${reading.value}`) });
  draft.note({
    at: at((mark + wide + last) / 2, 0),
    reading: named(offcut, `scrap, offcut ${offcut.value}`),
  });
  draft.note({ at: at(mark + wide / 2, -tube * 0.6), reading: named(kerf, `kerf ${kerf.value}`) });
  if (gap.known && gap.mm > 0.005)
    draft.note({ at: at(mark + gap.mm, tube * 0.6), reading: gap.reading });
  const side = base === 0 ? "above" : "below";
  const y = base === 0 ? tube * 1.5 : -tube * 1.5;
  draft.dimension({
    side,
    from: at(0, y),
    to: at(mark, y),
    reading: figures.of(corner.thing, "tube_mark", "center to saw line").reading,
  });
  if (end.known)
    draft.dimension({ side, from: at(0, y), to: at(last, y * 0.7), reading: end.reading });
}

/** A tape in the build's own units, drawn to the same scale as the tube. */
function drawTape(
  draft: Draft,
  figures: PictureFigures,
  housing: Thing | undefined,
  y: number,
  last: number,
): void {
  const burn = figures.of(housing, "burn");
  const zero = burn.known ? -burn.mm : 0;
  const imperial = figures.analysis.style.system === "inch";
  const unit = imperial ? inch : 10;
  draft.rectangle("thin", [zero, y + 16], [last, y - 16], { part: "tape" });
  for (const tick of ticks(0, (last - zero) / unit, Math.round((last - zero) / unit))) {
    const x = zero + tick * unit;
    const long = tick % (imperial ? 12 : 10) === 0;
    const middle = tick % (imperial ? 6 : 5) === 0;
    if (x > last) continue;
    draft.line("thin", [x, y + 16], [x, y + (long ? -16 : middle ? 0 : 6)]);
    if (middle) draft.letters({ at: [x, y - 28], text: String(tick), height: 1.8 });
  }
}
