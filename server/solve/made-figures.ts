/**
 * What is made of what is open in a drawing, in which order, and what stays of the drawing beside it:
 * see `outcome.ts`.
 *
 *     new MadeFigures(draw(system), solve).cut(new Set())   →   the same, made figures given on their steps
 *
 * Must not know: which side of a step a check would rather have.
 */
import { gradientAt } from "./adjoint";
import { makingOff, shareSteps, toStep } from "./as-made";
import { Directions } from "./directions";
import { isEvened, type Solving, wishesThatMirror } from "./draw";
import { executionOf } from "./execution";
import { residual } from "./form";
import { Misses } from "./misses";
import { byName, byRankAndName } from "./network";
import { LinearSpan, solveSquare } from "./span";
import type { GivenNumber, Making, Solution, Variable } from "./system";

/** What was made in an outcome, in the order of making. */
const madeIn = new WeakMap<Solution, readonly number[]>();
/** What of that went to its farther step. */
const turnedIn = new WeakMap<Solution, ReadonlySet<number>>();

export function madeFigures(outcome: Solution): readonly number[] {
  return madeIn.get(outcome) ?? [];
}

export function turnedFigures(outcome: Solution): ReadonlySet<number> {
  return turnedIn.get(outcome) ?? new Set();
}

export class MadeFigures {
  /** Figures that are made to their steps and answer wishes, in the order of making, twins together. */
  private readonly groups: readonly (readonly number[])[];
  readonly figures: readonly number[];
  private readonly directions: Directions;
  /** Soft equations the drawing rests on: wishes, assumed relations, defaults that were asked for. */
  private readonly columns: readonly number[];

  constructor(
    private readonly drawn: Solution,
    private readonly solved: Solving,
  ) {
    this.directions = new Directions(drawn);
    this.columns = this.directions.columns;
    this.groups = this.columns.length === 0 ? [] : this.taken();
    this.figures = this.groups.flat();
  }

  /** Nothing to make, nothing with a tolerance that a drawing does not have. */
  get isIdle(): boolean {
    const { variables, equations } = this.drawn.system;
    return (
      this.figures.length === 0 &&
      !variables.some(bare) &&
      !equations.some(({ slack = 0 }) => slack > 0)
    );
  }

  /** What is to go to its farther step. */
  get turned(): Set<number> {
    const { variables } = this.drawn.system;
    return new Set(this.figures.filter((each) => variables[each]!.making!.turned));
  }

  /** The build solved again with what is made as it is made; `turned` go to the farther step. */
  cut(turned: ReadonlySet<number>): Solution {
    const { system, values } = this.drawn;
    const work = new Misses(system);
    for (const [variable, about] of system.variables.entries()) {
      if (bare(about)) work.set(variable, { ...about, given: surely(about.given!, about.making!) });
    }
    const span = new LinearSpan();
    // Layout that comes back in the end is there from the start, so that all is drawn to it.
    const rows: { direction: readonly number[]; move: number }[] = this.comingBack();
    for (const { direction } of rows) span.add(direction);
    let keep = this.kept(span);
    for (const group of this.groups) {
      // All that mirror each other are drawn before any of them is rounded.
      const cuts = group.map((variable) => {
        const direction = this.directions.of(variable);
        const about = system.variables[variable]!;
        const drawn = values[variable]! + this.move(rows, keep, direction) * about.scale;
        const making = about.making!;
        const value = withinRange(about, toStep(drawn, making.step, turned.has(variable)));
        const given = surely({ value, low: value, high: value, rounding: 0 }, making);
        work.set(variable, { ...about, given });
        return { direction, move: (value - values[variable]!) / about.scale };
      });
      rows.push(...cuts);
      for (const { direction } of cuts) span.add(direction);
      keep = this.kept(span);
    }
    this.letGo(work, [...this.comingBack(), ...keep]);
    const outcome = this.solved(work.system, this.drawn);
    madeIn.set(outcome, this.figures);
    turnedIn.set(outcome, new Set(turned));
    shareSteps(outcome, this.halved(outcome));
    return outcome;
  }

  /**
   * Twins whose sum is settled otherwise, such as both marks of a housing whose width is given: where
   * each on its step they would miss it by more than half a step, they share that step.
   */
  halved({ values }: Solution): ReadonlySet<number> {
    const { variables } = this.drawn.system;
    const halved = new Set<number>();
    const made = new Set(this.figures);
    for (const group of this.openGroups) {
      if (group.length < 2) continue;
      const own = group.filter((variable) => this.directions.isMoved(variable));
      const [one = -1, other = -1] = own;
      if (own.length !== 2 || made.has(one)) continue;
      const { step } = variables[one]!.making!;
      if (step === undefined || variables[other]!.making!.step !== step) continue;
      const sum = values[one]! + values[other]!;
      const shown = toStep(values[one]!, step) + toStep(values[other]!, step);
      if (!(Math.abs(shown - sum) > (step / 2) * (1 + 1e-6))) continue;
      const [along, against] = [this.directions.of(one), this.directions.of(other)];
      if (along.every((entry, at) => Math.abs(entry + against[at]!) <= 1e-9))
        halved.add(one).add(other);
    }
    return halved;
  }

  // ── which are taken ──

  private taken(): number[][] {
    const span = new LinearSpan();
    const taken: number[][] = [];
    for (const open of this.openGroups) {
      // What follows from no wish at this place is not made for one.
      const group = open.filter((variable) => this.directions.isMoved(variable));
      const directions = group.map((variable) => this.directions.of(variable));
      if (group.length === 0 || !span.addAll(directions)) continue;
      taken.push(group);
      if (span.rank === this.columns.length) break;
    }
    return taken;
  }

  private openMade: readonly (readonly number[])[] | undefined;

  /**
   * Open figures that are made, then those that are bought, twins together, in order of making; no others
   * but those that follow from what is wanted or assumed.
   */
  private get openGroups(): readonly (readonly number[])[] {
    this.openMade ??= this.makeOpenGroups();
    return this.openMade;
  }

  private makeOpenGroups(): number[][] {
    const { variables } = this.drawn.system;
    const moves = this.directions.moving();
    const groups = new Map<string, number[]>();
    for (const [index, { name, making, twin }] of variables.entries()) {
      if (making === undefined) continue;
      if (!Number.isFinite(this.drawn.values[index])) continue;
      if (moves[index] !== 1) continue;
      const key = twin ?? name;
      const group = groups.get(key);
      if (group === undefined) groups.set(key, [index]);
      else group.push(index);
    }
    const order = byName(variables);
    const rankOf = ([first = 0]: readonly number[]): readonly (number | string)[] => {
      const { role, making, twin, name } = variables[first]!;
      return [role === "made" ? 0 : 1, making!.said ? 0 : 1, making!.order, twin ?? name];
    };
    return [...groups.values()]
      .map((group) => group.sort(order))
      .sort((one, other) => byParts(rankOf(one), rankOf(other)));
  }

  // ── what stays beside them ──

  /**
   * Which soft equations stay beside what is made so far: assumed relations first, those too that
   * wishes had pushed aside; then wishes, those that mirror each other as far as both can.
   */
  private kept(
    made: LinearSpan,
    mayComeBack: (each: Kept) => boolean = () => false,
  ): readonly Kept[] {
    const span = made.copy();
    const kept: Kept[] = [];
    for (const each of this.candidates()) {
      if (span.rank === this.columns.length) break;
      if (each.comesBack === true && !mayComeBack(each)) continue;
      if (span.add(each.direction)) kept.push(each);
    }
    return kept;
  }

  private comingBack(): Kept[] {
    const all = new LinearSpan();
    for (const variable of this.figures) all.add(this.directions.of(variable));
    // Only among wishes that what is made answers: all others are held.
    const answered = this.columns.map((_, column) =>
      this.figures.some((variable) => Math.abs(this.directions.of(variable)[column]!) > 1e-9),
    );
    const within = ({ direction }: Kept): boolean =>
      direction.every((entry, column) => Math.abs(entry) <= 1e-9 || answered[column]);
    return this.kept(all, within).filter(({ comesBack }) => comesBack);
  }

  private keptOnce: readonly Kept[] | undefined;

  private candidates(): readonly Kept[] {
    this.keptOnce ??= this.makeCandidates();
    return this.keptOnce;
  }

  private makeCandidates(): Kept[] {
    const { equations } = this.drawn.system;
    const order = byRankAndName(equations);
    const layout: Kept[] = [];
    const wishes: Kept[] = [];
    const soft = [...equations.keys()].filter((equation) => {
      const { rank } = equations[equation]!;
      return rank === "assumed" || rank === "asked";
    });
    for (const equation of soft.sort(order)) {
      const kept = this.directions.columnOf.has(equation)
        ? this.held(equation)
        : this.pushedAside(equation);
      if (kept !== undefined) layout.push(kept);
    }
    const mirrored = new Map<number, readonly number[]>();
    for (const group of wishesThatMirror(this.drawn.system)) {
      if (!group.every((equation) => this.directions.columnOf.has(equation))) continue;
      for (const equation of group) mirrored.set(equation, group);
    }
    for (const equation of this.columns) {
      if (equations[equation]!.rank !== "wanted") continue;
      const group = mirrored.get(equation);
      if (group === undefined) wishes.push(this.held(equation));
      else if (group[0] === equation) wishes.push(...this.together(group));
    }
    return [...layout, ...wishes];
  }

  private held(equation: number): Kept {
    const column = this.directions.columnOf.get(equation)!;
    return {
      how: "held",
      equations: [equation],
      direction: this.columns.map((_, at) => (at === column ? 1 : 0)),
      move: 0,
    };
  }

  /** Wishes that mirror each other: first that they miss alike, then that they do not miss at all. */
  private together(group: readonly number[]): Kept[] {
    const at = group.map((equation) => this.directions.columnOf.get(equation)!);
    const [first = -1] = at;
    const apart = at.slice(1).map(
      (other): Kept => ({
        how: "alike",
        equations: group,
        direction: this.columns.map((_, column) =>
          column === other ? 1 : column === first ? -1 : 0,
        ),
        move: 0,
      }),
    );
    const sum = this.columns.map((_, column) => (at.includes(column) ? 1 : 0));
    return [...apart, { how: "balanced", equations: group, direction: sum, move: 0 }];
  }

  /** An assumed relation that the wishes had pushed aside: it holds again once they are let go. */
  private pushedAside(equation: number): Kept | undefined {
    const execution = executionOf(this.drawn);
    const { variables } = this.drawn.system.equations[equation]!;
    if (variables.some((variable) => Number.isNaN(this.drawn.values[variable]))) return undefined;
    const size = this.directions.sizeOf(equation);
    const direction = this.directions.along(
      variables,
      [...gradientAt(execution, equation)].map((entry) => entry / size),
    );
    // What was evened out stays so: nothing that is made has let those wishes go.
    const even = (entry: number, column: number): boolean =>
      Math.abs(entry) > 1e-9 && isEvened(this.drawn, this.columns[column]!);
    if (direction.some(even)) return undefined;
    const gap = residual(execution.network.facts[equation]!, this.drawn.values, variables);
    return { how: "held", equations: [equation], direction, move: -gap / size, comesBack: true };
  }

  /** How far a direction moves once all before it were rounded and the rest stays. */
  private move(
    rows: readonly { readonly direction: readonly number[]; readonly move: number }[],
    kept: readonly Kept[],
    direction: readonly number[],
  ): number {
    if (rows.length === 0) return 0;
    const all = [...rows, ...kept];
    if (all.length !== this.columns.length) return 0;
    const moves = solveSquare(
      all.map((row) => row.direction),
      all.map((row) => row.move),
    );
    return moves === undefined
      ? 0
      : direction.reduce((sum, entry, column) => sum + entry * moves[column]!, 0);
  }

  // ── the system to solve ──

  private letGo(work: Misses, kept: readonly Kept[]): void {
    const { equations } = this.drawn.system;
    const held = new Set(kept.flatMap((each) => (each.how === "held" ? each.equations : [])));
    const whole = new Map<readonly number[], Set<Kept["how"]>>();
    for (const { how, equations: group } of kept) {
      if (how === "held") continue;
      const ways = whole.get(group) ?? new Set();
      whole.set(group, ways.add(how));
    }
    for (const [group, hows] of whole) {
      const alike = kept.filter((each) => each.how === "alike" && each.equations === group).length;
      if (hows.has("balanced") && alike === group.length - 1) {
        for (const equation of group) held.add(equation);
        continue;
      }
      if (alike > 0) work.alike(group);
      if (hows.has("balanced")) work.balanced(group);
    }
    for (const [equation, { rank, slack = 0 }] of equations.entries()) {
      if (rank === "wanted" || rank === "assumed" || rank === "asked") {
        if (!held.has(equation)) {
          work.letGo(equation);
          continue;
        }
      }
      if (slack > 0) work.tolerate(equation, slack);
    }
  }
}

interface Kept {
  readonly how: "held" | "alike" | "balanced";
  readonly equations: readonly number[];
  readonly direction: readonly number[];
  /** What it moves from the drawing, in units of its natural size. */
  readonly move: number;
  /** The drawing does without it. */
  readonly comesBack?: boolean;
}

// ───────────────────────────── helpers ─────────────────────────────

/** A made figure that is given without saying how surely: its making says it. */
function bare({ given, making, role }: Variable): boolean {
  return (
    role === "made" &&
    given !== undefined &&
    making !== undefined &&
    given.low === given.value &&
    given.high === given.value &&
    makingOff(making, given.value) > 0
  );
}

function surely(given: GivenNumber, making: Making): GivenNumber {
  const off = makingOff(making, given.value);
  return { ...given, low: given.value - off, high: given.value + off };
}

function withinRange({ range }: Variable, value: number): number {
  return range === undefined ? value : Math.min(Math.max(value, range[0]), range[1]);
}

function byParts(one: readonly (number | string)[], other: readonly (number | string)[]): number {
  for (const [at, left] of one.entries()) {
    const right = other[at]!;
    if (left !== right) return left < right ? -1 : 1;
  }
  return 0;
}
