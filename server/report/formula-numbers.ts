/**
 * A relation with the figures of one case put in for its names:
 *
 *     housing.face_to_face = left.half + right.half   →   54.679 in = 27.402 in + 27.277 in
 *
 * Must not know: how relations are solved, where the text is written to.
 */
import type { Analysis, Reason, Value } from "../analysis/analysis";

/** `undefined` where a figure it takes does not stand in it by name, as in a sum over all things. */
export function formulaWithNumbers(
  reason: Reason,
  value: Value,
  analysis: Analysis,
  write: (value: Value) => string,
): string | undefined {
  if (reason.kind === "default") return undefined;
  const { pieces } = reason;
  const named = new Set(pieces.flatMap((piece) => (typeof piece === "string" ? [] : [piece.path])));
  if (![value.path, ...reason.inputs].every((path) => named.has(path))) return undefined;
  return pieces
    .map((piece, at) => {
      if (typeof piece === "string") return piece;
      // What a formula of the build is for keeps its name: `width = 2 * 3 in`.
      if (reason.kind === "formula" && at === 0) return piece.text;
      const found = analysis.valueAt(piece.path);
      return found?.measure === undefined
        ? piece.text
        : bracketed(write(found), textOf(pieces[at - 1]), textOf(pieces[at + 1]));
    })
    .join("")
    .trim();
}

// ───────────────────────────── helpers ─────────────────────────────

function textOf(piece: Reason["pieces"][number] | undefined): string {
  return typeof piece === "string" ? piece : "";
}

/** A negative figure or one with a unit needs brackets where a sign or a power follows it. */
function bracketed(figure: string, before: string, after: string): string {
  const negative = figure.startsWith("-") && /[-+*/^]\s*$/.test(before);
  const powered = /^\s*\^/.test(after) && /[ -]/.test(figure);
  return negative || powered ? `(${figure})` : figure;
}
