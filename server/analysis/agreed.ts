/**
 * What is written and says more than enough, made to agree: where relations join more readings than
 * they need, and what is shown of them would not add up though their ± leaves room, all are adjusted
 * by least squares, the surest least. What their ± does not leave room for is a contradiction, and
 * stays as it is written.
 *
 *     agreed({ loose, cells, … })   →   { given: width 54 5/8 → 54 9/16 in, … }
 *
 * Source: see `server/solve/adjust.ts`. Must not know: how findings are worded.
 */
import type { ModelVariable } from "../model/model";
import type { FigureId } from "../names/ids";
import { adjusted, isGiven, quantityValue, sensitivities } from "../solve";
import type { Equation, GivenNumber, Solution, Variable } from "../solve/system";
import type { BuildCell, BuildCells } from "./build-cells";
import { isRepeated, mostRounds, overdetermined, type Taken, takenFrom } from "./reconciled";

/** Cells in which something with a ± may be written more than once over, by what they come to. */
export type LooseCells = ReadonlyMap<BuildCell["core"], BuildCell>;

/** Those of a reading, from those of the one its cells were made from. */
export function looseCells(cells: BuildCells, before: LooseCells | undefined): LooseCells {
  const loose = new Map(before);
  for (const core of cells.opened.keys()) loose.delete(core);
  for (const cell of cells.fresh) if (mayRepeat(cell)) loose.set(cell.core, cell);
  return loose;
}

export interface Agreeing {
  readonly loose: LooseCells;
  /** Those that are loose. */
  readonly read: BuildCells;
  /** With what records make of them. */
  readonly cells: BuildCells;
  /** Figures that stay what they were read as. */
  readonly readings: ReadonlySet<FigureId>;
  figureOf(figure: FigureId): ModelVariable | undefined;
  /** The cells there are once figures are taken otherwise. */
  cellsWith(taken: Taken): BuildCells;
}

/** Nothing where all that is written adds up as it stands. */
export function agreed({
  loose,
  read,
  cells: first,
  readings,
  figureOf,
  cellsWith,
}: Agreeing): { readonly cells: BuildCells; readonly taken: Taken } | undefined {
  // Most says no more than enough, or adds up.
  const among = apart(first === read ? loose.values() : standing(loose.values(), first), readings);
  if (among.length === 0) return undefined;
  const figures = new Set(among.flatMap(looseIn).filter((figure) => !readings.has(figure)));
  const taken = new Map<FigureId, GivenNumber | undefined>();
  let cells = first;
  let now: Iterable<BuildCell> = among;
  for (let round = 0; round < mostRounds; round++) {
    const moved = overdetermined(now, cells, figures).flatMap((cell) => [
      ...agreement(cell, figures, figureOf),
    ]);
    if (moved.length === 0) break;
    for (const [figure, given] of moved) taken.set(figure, given);
    cells = cellsWith(taken);
    now = standing(among, cells);
  }
  return taken.size === 0 ? undefined : { cells, taken };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Cells as they stand where something else is made of some figures. */
function standing(before: Iterable<BuildCell>, cells: BuildCells): ReadonlySet<BuildCell> {
  const now = new Set<BuildCell>();
  for (const cell of before) {
    for (const equation of cell.equations) {
      const own = cells.cellOfEquation(equation);
      if (own === undefined) continue;
      now.add(own);
      // Nothing of it is known otherwise.
      if (own.core === cell.core) break;
    }
  }
  return now;
}

/**
 * Cells that do not add up, and those that say more than enough of figures that stand in such; not
 * those of which is known that nothing in them moves.
 */
function apart(cells: Iterable<BuildCell>, readings: ReadonlySet<FigureId>): readonly BuildCell[] {
  const repeated = [...cells].filter(({ solution }) => isRepeated(solution));
  const found = repeated.filter(({ solution }) => !addsUp(solution));
  if (found.length === 0) return [];
  // First only of figures that others may share with these.
  const shared = new Map(found.flatMap(looseIn).map((figure) => [figure, 0]));
  for (const cell of repeated)
    for (const figure of looseIn(cell)) {
      const count = shared.get(figure);
      if (count !== undefined) shared.set(figure, count + 1);
    }
  const among = new Set<BuildCell>();
  for (const cell of found) {
    const own = looseIn(cell);
    const isAlone = own.every((figure) => shared.get(figure) === 1 && !readings.has(figure));
    if (!isAlone || !asWritten.has(cell.core)) among.add(cell);
  }
  if (among.size === 0) return [];
  const standingIn = new Map<FigureId, BuildCell[]>();
  for (const cell of repeated)
    for (const figure of looseIn(cell)) {
      const others = standingIn.get(figure);
      if (others === undefined) standingIn.set(figure, [cell]);
      else others.push(cell);
    }
  for (const cell of among)
    for (const figure of looseIn(cell))
      if (!readings.has(figure)) for (const other of standingIn.get(figure) ?? []) among.add(other);
  return [...among];
}

/** Of cells of which no record says anything: what is written in them stays, by itself. */
const asWritten = new WeakSet<BuildCell["core"]>();

const looseKeys = new WeakMap<BuildCell["core"], readonly FigureId[]>();

/** Figures of a cell that may move. */
function looseIn({ core, keys }: BuildCell): readonly FigureId[] {
  let loose = looseKeys.get(core);
  if (loose === undefined) {
    loose = keys.filter((_, at) => isLoose(core.system.variables[at]));
    looseKeys.set(core, loose);
  }
  return loose;
}

/** What the relations of a cell that are more than enough make of what is written in it. */
function agreement(
  cell: BuildCell,
  figures: ReadonlySet<FigureId>,
  figureOf: (figure: FigureId) => ModelVariable | undefined,
): Taken {
  const { solution, keys } = cell;
  const { equations, variables } = solution.system;
  if (addsUp(solution)) return new Map();
  // Which of its figures may move, and which of these only where no other does.
  const moving = keys.map((key) => {
    const figure = figures.has(key) ? figureOf(key) : undefined;
    if (figure === undefined || figure.part !== undefined) return " ";
    return figure.variable.role === "made" ? "m" : "r";
  });
  const said = moving.join("");
  const before = agreements.get(cell.core);
  if (before?.moving === said) return before.taken;
  const hard = solution.redundant.filter((equation) => isFirm(equations[equation]!));
  const mayMove = (variable: number, made: boolean): boolean =>
    moving[variable] === "r" || (made && moving[variable] === "m");
  // What is made is made as it is written, as long as the ± of what is read leaves room for that.
  for (const made of [false, true]) {
    const adjustment = adjusted(solution, hard, (variable) => mayMove(variable, made));
    const off = adjustment?.readings.filter(({ variable, read, adjusted: now }) => {
      const { scale } = variables[variable]!;
      return Math.abs(now - read) > 1e-9 * Math.max(scale, Math.abs(read));
    });
    const fits = off?.every(({ variable, adjusted: now }) => {
      const { low, high } = variables[variable]!.given!;
      return now >= low && now <= high;
    });
    if (off === undefined || off.length === 0 || !(made || fits === true)) continue;
    const taken = takenFrom(cell, off);
    agreements.set(cell.core, { moving: said, taken });
    return taken;
  }
  if (looseIn(cell).every((figure) => figures.has(figure))) asWritten.add(cell.core);
  const taken: Taken = new Map();
  agreements.set(cell.core, { moving: said, taken });
  return taken;
}

/** What was made of the figures of a cell last, by which of them may move. */
const agreements = new WeakMap<
  BuildCell["core"],
  { readonly moving: string; readonly taken: Taken }
>();

/** Asked again for all that is laid over a build. */
const known = new WeakMap<Solution, boolean>();

/** Whether all that is more than enough holds as it is written. */
function addsUp(solution: Solution): boolean {
  let does = known.get(solution);
  if (does === undefined) {
    const { equations } = solution.system;
    does = !solution.redundant.some(
      (equation) => isFirm(equations[equation]!) && isApart(solution, equation),
    );
    known.set(solution, does);
  }
  return does;
}

/** Whether more than the rounding of what is written keeps the sides of an equation apart. */
function isApart(solution: Solution, equation: number): boolean {
  const { form, variables } = solution.system.equations[equation]!;
  const expression = { op: "subtract", left: form.left, right: form.right } as const;
  const miss = quantityValue(solution, { expression, variables });
  if (miss === undefined || !Number.isFinite(miss)) return false;
  let explained = 0;
  let size = 0;
  for (const [variable, slope] of sensitivities(solution, { expression, variables })) {
    const { given, scale } = solution.system.variables[variable]!;
    explained += Math.abs(slope) * (given?.rounding ?? 0);
    size += Math.abs(slope) * Math.max(scale, Math.abs(given?.value ?? 0));
  }
  return Math.abs(miss) > explained * (1 + 1e-9) + 1e-9 * size;
}

function isLoose(variable: Variable | undefined): boolean {
  const { given, role } = variable ?? {};
  if (given === undefined || !(given.high > given.low)) return false;
  return role === undefined || role === "measured" || role === "bought" || role === "made";
}

function isFirm({ rank, slack }: Equation): boolean {
  return rank === "relation" && slack === undefined;
}

/**
 * Whether a cell can hold more equations than it needs, by its structure: an unknown that stands in
 * one firm equation alone lets that hold, whatever else does; what is left over may be too many.
 */
function mayRepeat({ core }: BuildCell): boolean {
  const { variables, equations } = core.system;
  if (!variables.some(isLoose)) return false;
  const left = new Set<Equation>(equations.filter(isFirm));
  const standing = variables.map((): Set<Equation> => new Set());
  const unknown = variables.map((variable) => !isGiven(variable));
  for (const equation of left)
    for (const variable of equation.variables)
      if (unknown[variable] === true) standing[variable]?.add(equation);
  const alone = standing.filter(({ size }) => size === 1);
  for (let own = alone.pop(); own !== undefined; own = alone.pop()) {
    const [equation] = own;
    if (equation === undefined || !left.delete(equation)) continue;
    for (const variable of equation.variables) {
      const others = standing[variable]!;
      others.delete(equation);
      if (others.size === 1) alone.push(others);
    }
  }
  return left.size > 0;
}
