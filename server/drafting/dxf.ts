/**
 * A draft as DXF for a cutting table or another drawing program: its lines, polygons and circles in
 * millimeters of the part, a layer for each line kind, letters on one of their own.
 *
 *     dxfOf(draft)   →   "0\nSECTION\n…"
 *
 * Dimensions, hatching and what is printed to measure a printer by stay out: a table would cut them.
 * Must not know: what is drawn.
 */
import {
  Colors,
  DxfWriter,
  point2d,
  point3d,
  TextHorizontalAlignment,
  TextVerticalAlignment,
  Units,
} from "@tarikjabiri/dxf";
import type { Draft, Mark } from "./drawing";
import { letterHeight } from "./lettering";

export function dxfOf({ marks, letterings }: Draft): string {
  const writer = new DxfWriter();
  writer.setUnits(Units.Millimeters);
  const cut = marks.filter(
    ({ kind, part }) => !drawnOnly.has(kind) && part?.startsWith("bar") !== true,
  );
  for (const kind of new Set(cut.map(({ kind: each }) => each)))
    writer.addLayer(
      layerOf(kind),
      kind === "outline" || kind === "heavy" ? Colors.White : Colors.Cyan,
    );
  writer.addLayer("letters", Colors.Green);
  for (const mark of cut) addMark(writer, mark);
  for (const {
    at: [x, y],
    text,
    height = letterHeight,
    from,
  } of letterings) {
    const align =
      from === "start"
        ? TextHorizontalAlignment.Left
        : from === "end"
          ? TextHorizontalAlignment.Right
          : TextHorizontalAlignment.Center;
    writer.addText(point3d(x, y), height, plain(text), {
      layerName: "letters",
      horizontalAlignment: align,
      verticalAlignment: TextVerticalAlignment.Middle,
      secondAlignmentPoint: point3d(x, y),
    });
  }
  return writer.stringify();
}

// ───────────────────────────── helpers ─────────────────────────────

const drawnOnly: ReadonlySet<Mark["kind"]> = new Set(["hatching", "band", "grid", "unknown"]);

/** `saw_heavy` would say what it is for; a layer is called by its line kind alone. */
function layerOf(kind: Mark["kind"]): string {
  return kind;
}

function addMark(writer: DxfWriter, { kind, points, radius, closed }: Mark): void {
  const options = { layerName: layerOf(kind) };
  const [first, second] = points;
  if (first === undefined) return;
  if (radius !== undefined) writer.addCircle(point3d(...first), radius, options);
  else if (points.length === 2 && second !== undefined && !closed)
    writer.addLine(point3d(...first), point3d(...second), options);
  else
    writer.addLWPolyline(
      points.map((point) => ({ point: point2d(...point) })),
      { ...options, flags: closed ? 1 : 0 },
    );
}

/** A text of DXF is one line of a file of lines; group codes of its own would follow a break. */
function plain(text: string): string {
  return text
    .replaceAll(/[\p{Cc}\p{Zl}\p{Zp}]/gu, " ")
    .replaceAll("\\", "/")
    .replaceAll("%%", "% %");
}
