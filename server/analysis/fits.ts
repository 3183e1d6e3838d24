/**
 * What would make a failing check hold: one figure changed, else two, each put into the build as if it
 * were written there, and what that moves and breaks elsewhere.
 *
 *     fitsOf(source, claim)   →   [{ path: "w.offset", shown: "6 mm", moves: […], breaks: […] }]
 *
 * Must not know: how changes are offered.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import { makeItFit } from "../findings/checks";
import type { Fix } from "../findings/finding";
import type { Writer } from "../findings/writer";
import type { ModelClaim, ModelVariable } from "../model/model";
import { anchorOfThing, placeToChange } from "../model/thing";
import type { FigureId } from "../names/ids";
import { failingLevel, mendsFor } from "../solve";
import type { Fit, FitLevel, Verdict } from "../solve/system";
import { displayOf, readUnit } from "../units";
import type { Broken, FitOfCheck, Moved, Offer } from "./analysis";
import { outcomeOfFigure } from "./outcome";
import { trialItem } from "./overlay";
import { Reading } from "./reading";
import { SolvedCell } from "./reasons";
import { type CheckSource, verdictOfClaim } from "./verdicts";

/** So many changes of other figures are told, those of figures that are asked for first. */
const mostMoves = 6;

interface PlacedFit extends FitOfCheck {
  readonly figure: FigureId;
  readonly beside?: NonNullable<FitOfCheck["beside"]> & { readonly figure: FigureId };
}

/** Those that break nothing first, of these the gentlest. */
export function fitsOf(source: CheckSource, claim: ModelClaim): PlacedFit[] {
  const { reading, writer } = source;
  if (!claim.applies) return [];
  const cell = reading.cells.wholeFor(claim.figures);
  const solved = new SolvedCell(reading, cell);
  const increment = (index: number) => incrementOf(solved.figureAt(index), solved, writer);
  const { patience } = reading.workshop;
  const mends = mendsFor(solved.solution, cell.core.outcome, solved.local(claim), increment);
  const fits = mends.flatMap((fit) => {
    if (patience.isUp()) {
      const { uri, item } = claim.thing?.anchor ?? claim.check.anchor;
      reading.leftOut.note("fits", uri, item);
      return [];
    }
    const first = placed(solved, fit, source);
    const second = fit.also === undefined ? undefined : placed(solved, fit.also, source);
    if (first === undefined || (fit.also !== undefined && second === undefined)) return [];
    const changes = [first, ...(second === undefined ? [] : [second])];
    const lines = changes.map(({ path, shown }) => `${path}: ${shown}`);
    const written = new Set(changes.map(({ figure }) => figure));
    const effect = effectOf(source, claim, { lines, written, level: fit.holds });
    if (effect === undefined) return [];
    return [{ ...fit, ...first, ...(second === undefined ? {} : { beside: second }), ...effect }];
  });
  return fits.sort(
    (one, other) => one.breaks.length - other.breaks.length || reachOf(one) - reachOf(other),
  );
}

/** What is made is easily made otherwise; another part takes buying; what was wanted is given up last. */
function reachOf({ role, beside }: FitOfCheck): number {
  const order = [undefined, "made", "bought"];
  const reach = (each: FitOfCheck["role"]): number =>
    order.includes(each) ? Number(each === "bought") : 2;
  return Math.max(reach(role), reach(beside?.role));
}

interface Placed extends Offer {
  readonly figure: FigureId;
}

function placed(
  solved: SolvedCell,
  { variable, value }: Pick<Fit, "variable" | "value">,
  { reading, writer }: CheckSource,
): Placed | undefined {
  const about = solved.figureAt(variable);
  if (about === undefined) return undefined;
  const { id, name, entry } = about;
  const { role } = about.variable;
  const { uri } = reading.build.root;
  const file =
    entry === undefined || entry.anchor.uri === uri
      ? {}
      : { file: fileFrom(uri, entry.anchor.uri) };
  const shown = writer.exactly(about, value);
  return { figure: id, path: name, shown, ...(role === undefined ? {} : { role }), ...file };
}

/** `parts/wheels.trammel` of a file beside the one at `uri` or below it; else its own name. */
function fileFrom(uri: string, other: string): string {
  const folder = uri.slice(0, uri.lastIndexOf("/") + 1);
  const text = other.startsWith(folder)
    ? other.slice(folder.length)
    : other.slice(other.lastIndexOf("/") + 1);
  return decodeURI(text);
}

/** What lines put into the build move and break; undefined where, with all of it, the check does not hold. */
export function effectOf(
  source: CheckSource,
  claim: ModelClaim,
  {
    lines,
    written = new Set(),
    level,
  }: {
    readonly lines: readonly string[];
    /** Figures they write, which are not told as moved. */
    readonly written?: ReadonlySet<FigureId>;
    readonly level: FitLevel;
  },
): { readonly moves: readonly Moved[]; readonly breaks: readonly Broken[] } | undefined {
  const { reading } = source;
  const { build, overlays, workshop } = reading;
  const item = trialItem(lines.join("\n"));
  const over = [...overlays, { is: "lines", item, uri: build.root.uri } as const];
  const laid = Reading.of(build, over, workshop, reading);
  const after = { ...source, reading: laid };
  // A path that cannot be written to, such as one into a list of the library, changes nothing.
  const verdict = verdictOfClaim(after, claim);
  if (verdict.nominal !== "holds" || verdict[level] !== "holds") return undefined;
  if (contradictionsIn(laid) > contradictionsIn(reading)) return undefined;
  return { moves: movedBy(source, laid, written), breaks: brokenBy(source, after) };
}

function contradictionsIn({ rows, cells }: Reading): number {
  const bad = new Set<object>();
  let count = 0;
  for (const { row } of rows) {
    for (const { equation } of row.equations) {
      const cell = cells.cellOfEquation(equation);
      if (cell === undefined || bad.has(cell.core)) continue;
      bad.add(cell.core);
      count += cell.solution.conflicts.length + cell.solution.failures.length;
    }
  }
  return count;
}

/** Asked and headline figures that come out otherwise. */
function movedBy(
  { reading, writer }: CheckSource,
  laid: Reading,
  written: ReadonlySet<FigureId>,
): readonly Moved[] {
  const asked = new Set(reading.rows.flatMap(({ row }) => row.asks.map(({ figure }) => figure)));
  const headline = new Set<FigureId>();
  for (const { row } of reading.rows) {
    for (const figure of row.figures) {
      if (reading.figure(figure)?.field.shown === true) headline.add(figure);
    }
  }
  const moves: Moved[] = [];
  for (const figure of new Set([...asked, ...headline])) {
    if (written.has(figure) || moves.length >= mostMoves) continue;
    if (reading.cells.cellOf(figure)?.core === laid.cells.cellOf(figure)?.core) continue;
    const about = reading.figure(figure);
    const then = laid.figure(figure);
    if (about === undefined || then === undefined) continue;
    const [from, to] = [outcomeOfFigure(reading, about)?.si, outcomeOfFigure(laid, then)?.si];
    const [before, now] = [writer.fine(from, about.measure), writer.fine(to, about.measure)];
    if (before !== now) moves.push({ path: about.name, from: before, to: now });
  }
  return moves;
}

/** Checks that hold at a level as the build is and fail at it with the change. */
function brokenBy(before: CheckSource, after: CheckSource): readonly Broken[] {
  const key = (claim: ModelClaim): string =>
    `${claim.thing?.path ?? ""}|${claim.check.title}|${claim.check.anchor.span.start}`;
  const known = new Map<string, Verdict>();
  for (const { row } of before.reading.rows) {
    for (const claim of row.claims) known.set(key(claim), verdictOfClaim(before, claim));
  }
  const broken: Broken[] = [];
  for (const { row } of after.reading.rows) {
    for (const claim of row.claims) {
      const was = known.get(key(claim));
      const verdict = verdictOfClaim(after, claim);
      if (verdict === was) continue;
      const level = failingLevel(verdict);
      if (level === undefined || was?.[level] === "fails") continue;
      const subject = claim.thing === undefined ? "" : `${claim.thing.path}: `;
      broken.push({ title: `${subject}${claim.check.title}`, level });
    }
  }
  return broken;
}

/** Changes that would make a failing check hold, as edits. */
export function fitFixes(source: CheckSource, claim: ModelClaim): Fix[] {
  const edited = ({ figure, path, shown, role, file }: Placed) => {
    // A list of parts says what there is to buy: another part is another line, not this one changed.
    if (role === "bought" && file !== undefined) return undefined;
    const about = source.reading.figure(figure);
    if (about === undefined) return undefined;
    if (about.entry === undefined) {
      const edit = lineBelow(source, about, claim, `${path}: ${shown}`);
      const cell = source.reading.cells.wholeFor([figure]);
      const value = cell.solution.values[cell.placeOf(figure) ?? -1] ?? Number.NaN;
      const now = `${source.writer.exactly(about, value)}, as nothing else is written`;
      return edit && { path, shown, now, file, edit };
    }
    const anchor = placeToChange(about.entry);
    if (anchor === undefined) return undefined;
    const now = textAt(anchor).replaceAll(/\s+/g, " ");
    return { path, shown, now, file, edit: { anchor, text: shown } };
  };
  return fitsOf(source, claim).flatMap((fit) => {
    const changes = [fit, ...(fit.beside === undefined ? [] : [fit.beside])].map(edited);
    if (changes.some((change) => change === undefined)) return [];
    const whole = changes.flatMap((change) => change ?? []);
    const title = makeItFit(
      whole,
      fit.breaks.map((broken) => broken.title),
    );
    return [{ title, edits: whole.map(({ edit }) => edit) }];
  });
}

/** A line of its own in the build's own file, below the thing it is about, else below what is judged. */
function lineBelow(
  { reading }: CheckSource,
  { thing }: ModelVariable,
  claim: ModelClaim,
  line: string,
): { readonly anchor: Anchor; readonly text: string } | undefined {
  const place = [anchorOfThing(thing), anchorOfThing(claim.thing), claim.check.anchor].find(
    (anchor) => anchor?.uri === reading.build.root.uri,
  );
  if (place === undefined) return undefined;
  const { item } = place;
  const { end } = item.node.span;
  return { anchor: { ...place, span: { start: end, end } }, text: `\n${line}` };
}

/**
 * The step a builder can work to: that in which it is made, else that of the unit they wrote; none for
 * what is not theirs to change.
 */
function incrementOf(
  variable: ModelVariable | undefined,
  solved: SolvedCell,
  writer: Writer,
): number | undefined {
  const { figure, entry, part, measure } = variable ?? {};
  if (variable === undefined || measure === undefined || part !== undefined) return undefined;
  if (entry === undefined ? !isDefault(variable, solved) : figure === undefined) return undefined;
  if (measure.whole) return 1;
  const { step: made } = variable.variable.making ?? {};
  if (made !== undefined) return made;
  const display = displayOf(measure, writer.style);
  const step = display.increment?.step;
  if (step !== undefined && (figure === undefined || figure.unit === display.unit)) {
    return step * (readUnit(display.unit, measure)?.factor ?? 1);
  }
  // Another unit than the build is shown in: as finely as it was written.
  if (figure !== undefined && figure.rounding > 0) return 2 * figure.rounding;
  const size = Math.abs(
    figure?.value ?? solved.solution.values[solved.placeOf(variable.id) ?? -1] ?? 0,
  );
  return size > 0 ? 10 ** (Math.floor(Math.log10(size)) - 2) : measure.scale;
}

/** Nobody wrote it: it is what its field says as long as nothing else is said. */
function isDefault({ id, variable }: ModelVariable, solved: SolvedCell): boolean {
  if (variable.role === "limit") return false;
  const determination = solved.solution.determinations[solved.placeOf(id) ?? -1];
  if (determination?.how !== "assumed") return false;
  return solved.equationAt(determination.equation)?.origin.is === "default";
}
