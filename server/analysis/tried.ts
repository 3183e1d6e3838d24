/**
 * A change put into the whole build as if it were written there: whether it does what it is to do,
 * what it moves and breaks elsewhere. The one way by which all that is offered is judged.
 *
 *     effectOf(source, holdsAt(claim, "nominal"), { lines: ["w.offset: 6 mm"] })
 *       // { moves: [{ path: "rear.left.inner_gap", … }], breaks: [], left: 0 }
 *
 * Must not know: where changes come from, how they are offered.
 */
import { timeIsUp } from "../keep/patience";
import type { ModelClaim } from "../model/model";
import type { FigureId } from "../names/ids";
import { failingLevel } from "../solve";
import type { FitLevel, Verdict } from "../solve/system";
import type { Broken, Moved, Offer } from "./changes-tried";
import { outcomeOfFigure } from "./outcome";
import { trialItem } from "./overlay";
import { Reading } from "./reading";
import { type CheckSource, verdictOfClaim } from "./verdicts";

/** So many changes of other figures are told, those of figures that are asked for first. */
const mostMoves = 6;

/** What a change is for. */
export interface ChangeAim {
  /** Whether it is come by with the change. */
  isMet(after: CheckSource, left: number): boolean;
  /** A check that is to hold, which is not told as broken. */
  readonly claim?: ModelClaim;
}

/** A check holds, as it comes out and at a level; nothing contradicts that did not before. */
export function holdsAt(before: CheckSource, claim: ModelClaim, level: FitLevel): ChangeAim {
  const contradicted = contradictionsIn(before.reading);
  return {
    claim,
    isMet: (after, left) => {
      const verdict = verdictOfClaim(after, claim);
      return verdict.nominal === "holds" && verdict[level] === "holds" && left <= contradicted;
    },
  };
}

/** There is less in the build that contradicts. */
export function agrees({ reading }: CheckSource): ChangeAim {
  const contradicted = contradictionsIn(reading);
  return { isMet: (_, left) => left < contradicted };
}

export interface Effect {
  readonly moves: readonly Moved[];
  readonly breaks: readonly Broken[];
  /** Contradictions that are left in the build. */
  readonly left: number;
}

/** What lines put into the build do; undefined where, with all of it, the goal is not come by. */
export function effectOf(
  source: CheckSource,
  goal: ChangeAim,
  {
    lines,
    written = new Set(),
  }: {
    readonly lines: readonly string[];
    /** Figures they write, which are not told as moved. */
    readonly written?: ReadonlySet<FigureId>;
  },
): Effect | undefined {
  const { build, overlays, workshop } = source.reading;
  const item = trialItem(lines.join("\n"));
  const over = [...overlays, { is: "lines", item, uri: build.root.uri } as const];
  const laid = Reading.of(build, over, workshop, source.reading);
  const after = { ...source, reading: laid };
  const left = contradictionsIn(laid);
  // A path that cannot be written to, such as one into a list of the library, changes nothing.
  if (!goal.isMet(after, left)) return undefined;
  const effect = { moves: movedBy(source, laid, written), breaks: brokenBy(source, after), left };
  // What there was no time to look through may break as well.
  return timeIsUp(workshop.patience) ? undefined : effect;
}

/**
 * Those that leave the fewest contradictions and break the least first, of these what is made. Where
 * one change breaks nothing, no two that break something are told.
 */
export function byEffect<T extends Effect>(
  changes: readonly T[],
  offersOf: (change: T) => readonly Offer[],
): T[] {
  const reach = (change: T): number => Math.max(0, ...offersOf(change).map(reachOf));
  const breaks = (change: T): boolean => change.left > 0 || change.breaks.length > 0;
  const isOneEnough = changes.some((each) => offersOf(each).length === 1 && !breaks(each));
  const told = changes.filter((each) => !isOneEnough || offersOf(each).length < 2 || !breaks(each));
  return told.sort(
    (one, other) =>
      one.left - other.left || one.breaks.length - other.breaks.length || reach(one) - reach(other),
  );
}

// ───────────────────────────── helpers ─────────────────────────────

/** What is made is easily made otherwise; another part takes buying; what was wanted is given up last. */
function reachOf({ role }: Offer): number {
  return role === undefined || role === "made" ? 0 : role === "bought" ? 1 : 2;
}

const counted = new WeakMap<Reading, number>();

function contradictionsIn(reading: Reading): number {
  const known = counted.get(reading) ?? countedIn(reading);
  counted.set(reading, known);
  return known;
}

function countedIn({ rows, cells }: Reading): number {
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
