/**
 * The cells a reading of a build consists of: its equations, parted where nothing unknown holds
 * them together. Made from those of another reading by what differs, so that a change costs the
 * cells it touches and no others.
 *
 *     const after = before.change({ dropped, taken, touched, … }); after.cellOf(figure)
 *
 * Never written to. Must not know: what figures and equations are about.
 */
import { LayeredMap } from "../keep/layered-map";
import { sameVariable } from "../model/known-figure";
import type { FigureEquation, Row } from "../model/model";
import type { FigureId, ThingId } from "../names/ids";
import { type Cell, isGiven, type Plans, type ReadAs, type Solved } from "../solve";
import type { Variable } from "../solve/system";

export type BuildCell = Cell<FigureId>;
export type BuildSolved = Solved<FigureId>;

/** What cells came to that are there no longer, with the figures that stood in them. */
export type Opened = ReadonlyMap<BuildCell["core"], BuildCell["keys"]>;

interface Placed {
  readonly row: Row;
}

export interface Change {
  /** Rows that are there no longer, and rows that are new. */
  readonly dropped: readonly Placed[];
  readonly taken: readonly Placed[];
  /** All rows there are now. */
  readonly rows: readonly Placed[];
  /** Figures that may be given otherwise than before. */
  readonly touched: Iterable<FigureId>;
  variableOf(figure: FigureId): Variable;
}

/** What is known of an equation in one reading. */
interface State {
  /** How many rows speak of it. */
  count: number;
  /** Where it stands; of figures only what is unknown stands in one. */
  cell: BuildCell | undefined;
}

/** What is known of a figure in one reading. */
interface FigureState extends State {
  /** As the solver sees it. */
  variable: Variable | undefined;
}

type Figures = LayeredMap<FigureId, FigureState>;
type Equations = LayeredMap<FigureEquation, State>;

export class BuildCells {
  private constructor(
    private readonly plans: Plans,
    private readonly figures: Figures,
    private readonly equations: Equations,
    /** Cells whose structure stands and whose numbers are others now, by what they were at first. */
    private readonly renewed: ReadonlyMap<BuildCell, BuildCell>,
    /** What cells come to that were there in the reading it was made from, and are not here. */
    readonly opened: Opened,
    /** The cells that are here and were not there. */
    readonly fresh: readonly BuildCell[],
  ) {}

  static none(plans: Plans): BuildCells {
    const nothing = new Map();
    return new BuildCells(
      plans,
      LayeredMap.of(nothing),
      LayeredMap.of(nothing),
      nothing,
      nothing,
      [],
    );
  }

  /** Whether anything in the build speaks of it. */
  has(figure: FigureId): boolean {
    return this.figures.get(figure) !== undefined;
  }

  variable(figure: FigureId): Variable | undefined {
    return this.figures.get(figure)?.variable;
  }

  /** The cell that has it among its unknowns; nothing for what is given or stands alone. */
  cellOf(figure: FigureId): BuildCell | undefined {
    return this.now(this.figures.get(figure)?.cell);
  }

  cellOfEquation(equation: FigureEquation): BuildCell | undefined {
    return this.now(this.equations.get(equation)?.cell);
  }

  private now<C extends BuildCell | undefined>(cell: C): C | BuildCell {
    return cell === undefined ? cell : (this.renewed.get(cell) ?? cell);
  }

  /** A solution that has all of these figures: one cell, or what leads to them in several. */
  solvedFor(figures: readonly FigureId[], as: ReadAs = "solution"): BuildSolved {
    const { cells, whole } = this.cellsOf(figures);
    if (whole !== undefined) return whole.read(as);
    for (const cell of cells) if (cell.hasModes) return this.wholeFor(figures).read(as);
    return this.plans.joined([...cells], figures, (figure) => this.variableOf(figure), as);
  }

  /** The same with all that hangs together with them, where something is to be solved again. */
  wholeFor(figures: readonly FigureId[]): BuildCell {
    const { cells, whole } = this.cellsOf(figures);
    if (whole !== undefined) return whole;
    const equations = [...cells].flatMap((cell) => cell.equations);
    return this.plans.cell(equations, (figure) => this.variableOf(figure), figures);
  }

  /** Some cells solved as one, by all they have in common. */
  together(cells: readonly BuildCell[]): BuildCell {
    const equations = new Set(cells.flatMap((cell) => cell.equations));
    return this.plans.cell(equations, (figure) => this.variableOf(figure));
  }

  /** The cells of some figures, and the one that has them all, if there is one. */
  private cellsOf(figures: readonly FigureId[]) {
    const cells = new Set<BuildCell>();
    for (const figure of figures) {
      const cell = this.cellOf(figure);
      if (cell !== undefined) cells.add(cell);
    }
    const [first] = cells;
    const all = cells.size === 1 && figures.every((figure) => first?.placeOf(figure) !== undefined);
    return { cells, whole: all ? first : undefined };
  }

  private variableOf(figure: FigureId): Variable {
    return this.variable(figure) ?? nothing(figure);
  }

  change({ dropped, taken, rows, touched, variableOf }: Change): BuildCells {
    const figures = new Draft(this.figures, newFigure);
    const equations = new Draft(this.equations, newEquation);
    count(figures, equations, taken, dropped);
    const partition = new Partition(figures, equations, this.figures.isEmpty);
    for (const [figure, state] of figures.changes) {
      const was = this.figures.get(figure);
      if (state.count === 0) partition.open(was?.cell);
      else if (was === undefined) state.variable = variableOf(figure);
    }
    for (const [equation, state] of equations.changes) {
      const was = this.equations.get(equation);
      if (state.count === 0) partition.remove(equation, was?.cell);
      else if (was === undefined) partition.add(equation);
    }
    // Of a first reading all is new.
    for (const figure of this.figures.isEmpty ? [] : touched) {
      const before = this.figures.get(figure);
      if (before?.variable === undefined || figures.get(figure)?.count === 0) continue;
      const now = variableOf(figure);
      if (sameVariable(before.variable, now)) continue;
      figures.of(figure).variable = now;
      // Where it is given or open as before, only numbers change.
      const alike = isGiven(before.variable) === isGiven(now);
      const touch = (equation: FigureEquation): void => {
        if (alike) partition.renew(equations.get(equation)?.cell);
        else partition.add(equation);
      };
      if (alike) partition.renew(before.cell);
      else partition.open(before.cell);
      // What was given may stand in any number of cells.
      if (before.variable.given === undefined) continue;
      for (const { row } of rows) {
        if (!row.figures.has(figure)) continue;
        for (const { equation } of row.equations)
          if (equation.figures.includes(figure)) touch(equation);
      }
    }
    const { made: fresh, opened } = partition.part(this.plans);
    const gone = new Map<BuildCell["core"], BuildCell["keys"]>();
    for (const cell of opened) gone.set(this.now(cell).core, cell.keys);
    const renewed = new Map(this.renewed);
    for (const cell of opened) renewed.delete(cell);
    for (const cell of partition.toRenew) {
      if (opened.has(cell)) continue;
      const before = this.now(cell);
      const after = this.plans.renewed(before, (figure) => variableIn(figures, figure));
      if (after.core === before.core) continue;
      renewed.set(cell, after);
      fresh.push(after);
      gone.set(before.core, before.keys);
    }
    for (const { core } of fresh) gone.delete(core);
    return new BuildCells(this.plans, figures.done(), equations.done(), renewed, gone, fresh);
  }
}

/** By the keys of a cell, which stay where only its numbers change. */
const known = new WeakMap<BuildCell["keys"], ReadonlySet<ThingId>>();

/** The things at the top whose figures stand in a cell. */
export function topsOf({ keys }: Pick<BuildCell, "keys">): ReadonlySet<ThingId> {
  let tops = known.get(keys);
  if (tops === undefined) {
    tops = new Set(keys.map(({ thing }) => thing.top));
    known.set(keys, tops);
  }
  return tops;
}

/** What changes from one reading to the next, while it is worked out. */
class Draft<K, S extends State> {
  readonly changes = new Map<K, S>();

  constructor(
    private readonly before: LayeredMap<K, S>,
    private readonly fresh: () => S,
  ) {}

  get(each: K): S | undefined {
    return this.changes.get(each) ?? this.before.get(each);
  }

  /** Its state, to be written to. */
  of(each: K): S {
    let state = this.changes.get(each);
    if (state === undefined) {
      const before = this.before.get(each);
      state = before === undefined ? this.fresh() : { ...before };
      this.changes.set(each, state);
    }
    return state;
  }

  done(): LayeredMap<K, S> {
    const changes: Map<K, S | undefined> = this.changes;
    for (const [each, state] of this.changes) if (state.count === 0) changes.set(each, undefined);
    return this.before.with(changes);
  }
}

/** What a row that was made again has as before is left alone. */
function count(
  figures: Draft<FigureId, FigureState>,
  equations: Draft<FigureEquation, State>,
  taken: readonly Placed[],
  dropped: readonly Placed[],
): void {
  if (dropped.length === 0) {
    for (const { row } of taken) {
      for (const figure of row.figures) figures.of(figure).count++;
      for (const { equation } of row.equations) equations.of(equation).count++;
    }
    return;
  }
  const ofFigures = new Map<FigureId, number>();
  const ofEquations = new Map<FigureEquation, number>();
  for (const [rows, by] of [
    [taken, 1],
    [dropped, -1],
  ] as const) {
    for (const { row } of rows) {
      for (const figure of row.figures) add(ofFigures, figure, by);
      // A row may have one equation twice: two lines that say the same.
      for (const { equation } of row.equations) add(ofEquations, equation, by);
    }
  }
  for (const [figure, by] of ofFigures) if (by !== 0) figures.of(figure).count += by;
  for (const [equation, by] of ofEquations) if (by !== 0) equations.of(equation).count += by;
}

/** Which cells are taken apart, and what they fall into with what is new. */
class Partition {
  private readonly again = new Set<FigureEquation>();
  private readonly removed = new Set<FigureEquation>();
  private readonly opened = new Set<BuildCell>();
  /** Where only numbers change. */
  readonly toRenew = new Set<BuildCell>();

  constructor(
    private readonly figures: Draft<FigureId, FigureState>,
    private readonly equations: Draft<FigureEquation, State>,
    /** Whether nothing was there before. */
    private readonly isFirst: boolean,
  ) {}

  open(cell: BuildCell | undefined): void {
    if (cell === undefined || this.opened.has(cell)) return;
    this.opened.add(cell);
    for (const equation of cell.equations) this.again.add(equation);
  }

  renew(cell: BuildCell | undefined): void {
    if (cell !== undefined) this.toRenew.add(cell);
  }

  add(equation: FigureEquation): void {
    this.again.add(equation);
    if (!this.isFirst) this.open(this.equations.get(equation)?.cell);
  }

  remove(equation: FigureEquation, cell: BuildCell | undefined): void {
    this.removed.add(equation);
    this.open(cell);
  }

  /** Gives new cells, and those that were taken apart. */
  part(plans: Plans): { made: BuildCell[]; opened: ReadonlySet<BuildCell> } {
    const { figures, equations } = this;
    const isUnknown = (state: FigureState | undefined): boolean =>
      state?.variable === undefined || !isGiven(state.variable);
    // What is new joins the cells of its unknowns; these may hold further equations.
    for (const equation of this.isFirst ? [] : this.again) {
      if (this.removed.has(equation)) continue;
      for (const figure of equation.figures) {
        const state = figures.get(figure);
        if (state?.cell !== undefined && isUnknown(state)) this.open(state.cell);
      }
    }
    for (const cell of this.opened) {
      for (const key of cell.keys)
        if (figures.get(key)?.cell === cell) figures.of(key).cell = undefined;
      for (const equation of cell.equations) equations.of(equation).cell = undefined;
    }
    const again =
      this.removed.size === 0
        ? [...this.again]
        : [...this.again].filter((equation) => !this.removed.has(equation));
    const made: BuildCell[] = [];
    const variableOf = (figure: FigureId) => variableIn(figures, figure);
    for (const together of connected(again, (figure) => isUnknown(figures.get(figure)))) {
      const cell = plans.cell(together, variableOf);
      for (const [place, key] of cell.keys.entries())
        if (!isGiven(cell.core.system.variables[place] as Variable)) figures.of(key).cell = cell;
      for (const equation of together) equations.of(equation).cell = cell;
      made.push(cell);
    }
    return { made, opened: this.opened };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** Equations that share unknowns, directly or by way of others; one without any stands alone. */
function connected(
  equations: readonly FigureEquation[],
  isUnknown: (figure: FigureId) => boolean,
): FigureEquation[][] {
  const parents = Int32Array.from(equations, (_, at) => at);
  const find = (at: number): number => {
    let top = at;
    while (parents[top] !== top) top = parents[top] as number;
    for (let next = at; next !== top; ) {
      const above = parents[next] as number;
      parents[next] = top;
      next = above;
    }
    return top;
  };
  const first = new Map<FigureId, number>();
  for (const [at, { figures }] of equations.entries()) {
    for (const figure of figures) {
      if (!isUnknown(figure)) continue;
      const other = first.get(figure);
      if (other === undefined) first.set(figure, at);
      else parents[find(at)] = find(other);
    }
  }
  const parts = new Map<number, FigureEquation[]>();
  for (const [at, equation] of equations.entries()) {
    const top = find(at);
    const part = parts.get(top);
    if (part === undefined) parts.set(top, [equation]);
    else part.push(equation);
  }
  return [...parts.values()];
}

function newFigure(): FigureState {
  return { count: 0, cell: undefined, variable: undefined };
}

function newEquation(): State {
  return { count: 0, cell: undefined };
}

function add<K>(counts: Map<K, number>, each: K, by: number): void {
  counts.set(each, (counts.get(each) ?? 0) + by);
}

function variableIn(figures: Draft<FigureId, FigureState>, figure: FigureId): Variable {
  return figures.get(figure)?.variable ?? nothing(figure);
}

/** Stands in for a figure that nothing is known of. */
export function nothing({ name }: FigureId): Variable {
  return { name, scale: 1, askedFirst: false };
}
