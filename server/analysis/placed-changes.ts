/**
 * Changes of figures as they would be written into a build, and as edits of its files.
 *
 *     placedChange(source, variable, 0.006)   →   { path: "w.offset", shown: "6 mm", … }
 *
 * Must not know: what a change is for, what it does.
 */
import { type Anchor, textAt } from "../../grammar/anchor";
import { makeItFit } from "../findings/checks";
import type { Fix } from "../findings/finding";
import type { ModelVariable } from "../model/model";
import { anchorOfThing, placeToChange } from "../model/thing";
import type { FigureId } from "../names/ids";
import type { FittingChange, Offer } from "./changes-tried";
import type { Reading } from "./reading";
import type { Effect } from "./tried";
import type { CheckSource } from "./verdicts";

export interface PlacedChange extends Offer {
  readonly figure: FigureId;
}

/** A change with the figures it is of. */
export interface PlacedFit extends FittingChange, Effect {
  readonly offers: readonly PlacedChange[];
}

/** `shown`: as it would be written; the figure as exactly as it takes where that is left out. */
export function placedChange(
  { reading, writer }: CheckSource,
  about: ModelVariable,
  si: number,
  shown = writer.exactly(about, si),
): PlacedChange {
  const { id, name, entry, variable } = about;
  const { role } = variable;
  const { uri } = reading.build.root;
  const file =
    entry === undefined || entry.anchor.uri === uri
      ? {}
      : { file: fileFrom(uri, entry.anchor.uri) };
  return { figure: id, path: name, si, shown, ...(role === undefined ? {} : { role }), ...file };
}

/** Lines as they are laid over a build to try changes. */
export function linesOf(changes: readonly Offer[]): readonly string[] {
  return changes.map(({ path, shown }) => `${path}: ${shown}`);
}

/**
 * A change as edits; nothing where it is not to be edited: what a list of parts says there is to buy.
 * `places`: where a line of its own may stand, for what is written nowhere.
 */
export function fixOf(
  { reading, writer }: CheckSource,
  { offers, moves, breaks }: PlacedFit,
  places: readonly (Anchor | undefined)[],
): Fix[] {
  const whole = offers.flatMap(({ figure, path, shown, role, file }) => {
    if (role === "bought" && file !== undefined) return [];
    const about = reading.figure(figure);
    if (about === undefined) return [];
    if (about.entry === undefined) {
      const edit = lineBelow(reading, [anchorOfThing(about.thing), ...places], `${path}: ${shown}`);
      const cell = reading.cells.wholeFor([figure]);
      const value = cell.solution.values[cell.placeOf(figure) ?? -1] ?? Number.NaN;
      const now = `${writer.exactly(about, value)}, as nothing else is written`;
      return edit === undefined ? [] : [{ path, shown, now, file, edit }];
    }
    const anchor = placeToChange(about.entry);
    if (anchor === undefined) return [];
    const now = textAt(anchor).replaceAll(/\s+/g, " ");
    return [{ path, shown, now, file, edit: { anchor, text: shown } }];
  });
  if (whole.length < offers.length) return [];
  const told = makeItFit(whole, { moves, breaks: breaks.map(({ title }) => title) });
  return [{ ...told, edits: whole.map(({ edit }) => edit) }];
}

// ───────────────────────────── helpers ─────────────────────────────

/** `parts/wheels.trammel` of a file beside the one at `uri` or below it; else its own name. */
function fileFrom(uri: string, other: string): string {
  const folder = uri.slice(0, uri.lastIndexOf("/") + 1);
  const text = other.startsWith(folder)
    ? other.slice(folder.length)
    : other.slice(other.lastIndexOf("/") + 1);
  return decodeURI(text);
}

/** A line of its own in the build's own file, below the first place that stands there. */
function lineBelow(
  { build }: Reading,
  places: readonly (Anchor | undefined)[],
  line: string,
): { readonly anchor: Anchor; readonly text: string } | undefined {
  const place = places.find((anchor) => anchor?.uri === build.root.uri);
  if (place === undefined) return undefined;
  const { item } = place;
  const { end } = item.node.span;
  return { anchor: { ...place, span: { start: end, end } }, text: `\n${line}` };
}
