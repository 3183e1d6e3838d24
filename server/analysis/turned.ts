/**
 * What is made goes to the farther of its two steps where a check that holds as drawn would fail by
 * rounding alone.
 *
 *     turnsIn({ cells, … }).get(cell)   // the saw line of the left side, where rounding takes its gap away
 *
 * Kept by cell: what is turned in one hangs on the checks that speak of it and on nothing else. Must
 * not know: what figures and checks are about.
 */
import type { ModelClaim, Row } from "../model/model";
import type { FigureId, ThingId } from "../names/ids";
import { madeFigures, outcomeOf, truthOf, turnedFigures } from "../solve";
import type { Claim } from "../solve/system";
import { type BuildCell, type BuildCells, nothing, topsOf } from "./build-cells";

/** Of each cell in which something made answers a wish, what goes to its farther step. */
export type Turns = ReadonlyMap<BuildCell, readonly FigureId[]>;

interface Placed {
  readonly row: Row;
}

interface Turning {
  /** With everything made on its nearest step. */
  readonly cells: BuildCells;
  /** The rows whose checks speak of some things at the top, and maybe others, in their order. */
  claiming(tops: ReadonlySet<ThingId>): readonly Row[];
  /** What held in the reading before, and what is not as it was there: cells, and rows gone or come. */
  readonly before: Turns | undefined;
  readonly fresh: readonly BuildCell[];
  readonly other: readonly Placed[];
}

export function turnsIn({ cells, claiming, before, fresh, other }: Turning): Turns {
  const turns = new Map<BuildCell, readonly FigureId[]>();
  const come = new Set<BuildCell>(fresh.filter((cell) => nowOf(cells, cell) === cell));
  for (const [cell, turned] of before ?? []) {
    const now = nowOf(cells, cell);
    if (now === cell) turns.set(cell, turned);
    else if (now !== undefined) come.add(now);
  }
  // Cells to be judged: those that are new, and those some check of which may say otherwise now.
  const again = new Set([...come].filter(makes));
  if (turns.size === 0 && again.size === 0) return turns;
  const stale = new Set<ThingId>([...come].flatMap((cell) => [...topsOf(cell)]));
  for (const { row } of other) for (const top of claimTops(row)) stale.add(top);
  for (const { claims } of claiming(stale))
    for (const { figures } of claims)
      for (const figure of figures) {
        const cell = cells.cellOf(figure);
        if (cell !== undefined && turns.has(cell)) again.add(cell);
      }
  if (again.size === 0) return turns;
  // What is about a cell stands in no row that says nothing of its things.
  const about = new Set<ThingId>([...again].flatMap((cell) => [...topsOf(cell)]));
  const claims = new Map<BuildCell, Set<ModelClaim>>([...again].map((cell) => [cell, new Set()]));
  for (const row of claiming(about)) {
    for (const claim of row.claims) {
      if (!claim.applies) continue;
      for (const figure of claim.figures) {
        const cell = cells.cellOf(figure);
        if (cell !== undefined) claims.get(cell)?.add(claim);
      }
    }
  }
  for (const cell of again) turns.set(cell, []);
  for (const [cell, own] of claims) {
    for (const figure of turnedBy(cells, [...own])) {
      const at = cells.cellOf(figure) ?? cell;
      turns.set(at, [...(turns.get(at) ?? []), figure]);
    }
  }
  return turns;
}

/** Cells with what goes the other way. */
export function withTurned(cells: BuildCells, turns: Turns, rows: readonly Placed[]): BuildCells {
  const turned = new Set([...turns.values()].flat());
  if (turned.size === 0) return cells;
  return cells.change({
    dropped: [],
    taken: [],
    rows,
    touched: turned,
    variableOf: (figure) => {
      const variable = cells.variable(figure) ?? nothing(figure);
      const { making } = variable;
      if (making === undefined || !turned.has(figure)) return variable;
      return { ...variable, making: { ...making, turned: true } };
    },
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** The cell that now holds what a cell held. */
function nowOf(cells: BuildCells, cell: BuildCell): BuildCell | undefined {
  for (const key of cell.keys) {
    const now = cells.cellOf(key);
    if (now !== undefined) return now;
  }
  return undefined;
}

/** Whether something in a cell is made to its step and answers a wish. */
function makes({ core }: BuildCell): boolean {
  const { variables, equations } = core.system;
  const mayMake = variables.some(
    ({ making, given }) => making !== undefined && given === undefined,
  );
  const mayYield = equations.some(({ rank }) => rank !== "relation" && rank !== "default");
  return mayMake && mayYield && madeFigures(core.outcome).length > 0;
}

/** What goes the other way for the sake of these checks, where rounding alone breaks one of them. */
function turnedBy(cells: BuildCells, claims: readonly ModelClaim[]): readonly FigureId[] {
  if (!claims.some((claim) => breaks(cells, claim))) return [];
  const whole = cells.wholeFor([...new Set(claims.flatMap(({ figures }) => figures))]);
  const local = claims.map(
    (claim): Claim => ({
      ...claim,
      variables: claim.figures.map((figure) => whole.placeOf(figure) ?? -1),
    }),
  );
  const outcome = outcomeOf(whole.core.solution, local);
  return [...turnedFigures(outcome)].flatMap((place) => whole.keys[place] ?? []);
}

/** It holds as drawn and fails as it comes out. */
function breaks(cells: BuildCells, claim: ModelClaim): boolean {
  const holds = (as: "solution" | "outcome"): number => {
    const values = Float64Array.from(claim.figures, (figure) => {
      const cell = cells.cellOf(figure);
      const place = cell?.placeOf(figure) ?? -1;
      return cell?.core[as].values[place] ?? cells.variable(figure)?.given?.value ?? Number.NaN;
    });
    return truthOf(values, { ...claim, variables: claim.figures.map((_, at) => at) });
  };
  return holds("outcome") === 0 && holds("solution") === 1;
}

const known = new WeakMap<Row, ReadonlySet<ThingId>>();

/** The things at the top that the checks of a row speak of. */
export function claimTops(row: Row): ReadonlySet<ThingId> {
  let tops = known.get(row);
  if (tops === undefined) {
    tops = new Set(row.claims.flatMap(({ figures }) => figures.map(({ thing }) => thing.top)));
    known.set(row, tops);
  }
  return tops;
}
