/**
 * A cell: equations that hang together by what is not known, with all they rest on, solved as a
 * small system of its own. Variables and equations stand in it in the order of their names, so that
 * two cells of the same structure share one plan, whatever they are about.
 *
 *     solveCell(equations, variableOf, plans).solution.values[0]
 *
 * Must not know: text, units, kinds, files; what its variables stand for, beyond their names.
 */
import { Kept } from "../keep/kept";
import { inTime, type Patience, patienceAsked } from "../keep/patience";
import { draw, withWishesGiven } from "./draw";
import { joined } from "./joined";
import type { Key, KeyedEquation, ReadAs, Solved } from "./keyed";
import { hasModes, solveModes } from "./modes";
import { outcomeOf } from "./outcome";
import { planOf, solve, solveLike, unsolved } from "./solve";
import { byName, type Structure, Structures } from "./structures";
import type { Equation, Solution, System, Variable } from "./system";

export class Cell<K extends Key> implements Solved<K> {
  constructor(
    readonly keys: readonly K[],
    private readonly places: ReadonlyMap<K, number>,
    readonly equations: readonly KeyedEquation<K>[],
    /** The same object for cells that are made of the same. */
    readonly core: Core,
  ) {}

  get solution(): Solution {
    return this.core.solution;
  }

  /** Which of its equations hold is part of the answer. */
  get hasModes(): boolean {
    return this.core.hasModes;
  }

  /** The same cell come to otherwise. */
  with(core: Core): Cell<K> {
    return new Cell(this.keys, this.places, this.equations, core);
  }

  /** The same cell read otherwise. */
  read(as: ReadAs): Solved<K> {
    if (as === "solution") return this;
    return {
      solution: this.core[as],
      keys: this.keys,
      placeOf: (key) => this.placeOf(key),
      equationAt: (place) => this.equationAt(place),
    };
  }

  placeOf(key: K): number | undefined {
    return this.places.get(key);
  }

  equationAt(place: number): KeyedEquation<K> | undefined {
    return this.equations[place];
  }
}

let cores = 0;

/** What a cell comes to, worked out when first asked for. */
export class Core {
  /** Of this process alone; for keys of what is kept. */
  readonly serial = cores++;
  private made: Solution | undefined;
  private modes: boolean | undefined;

  constructor(
    readonly system: System,
    readonly structure: Structure,
    private readonly plans: Plans,
    /** What was solved before and has much in common with it, until it is solved. */
    private beside?: Solution,
  ) {}

  /** What it comes to, or what is likely to have much in common with that. */
  get likely(): Solution | undefined {
    return this.made ?? this.beside;
  }

  /** Which of its equations hold is part of the answer. */
  get hasModes(): boolean {
    this.modes ??= hasModes(this.system);
    return this.modes;
  }

  /** As drawn: everything written holds as far as it can. */
  get solution(): Solution {
    if (this.made === undefined) {
      this.made = this.inTime(() =>
        draw(this.system, (system, beside) =>
          this.plans.solve(system, this, beside ?? this.beside),
        ),
      );
      if (this.made !== undefined) this.beside = undefined;
    }
    return this.made ?? this.unsolved;
  }

  private cameOut: Solution | undefined;

  /** As it comes out: what is made on its step, wishes let go where something made answers them. */
  get outcome(): Solution {
    this.cameOut ??= this.inTime(() =>
      outcomeOf(this.solution, [], (system, beside) => this.plans.solve(system, this, beside)),
    );
    return this.cameOut ?? this.unsolved;
  }

  private held: Solution | undefined;

  /** As drawn, the wishes that hold taken as givens. */
  get wished(): Solution {
    this.held ??= this.inTime(() => withWishesGiven(this.solution));
    return this.held ?? this.unsolved;
  }

  /** Who had no time to see it solved: whoever asks after them has it solved. */
  private cutFor: Patience | undefined;
  private open: Solution | undefined;

  /** Whether there was no time to solve it, and all that is not given is open for that. */
  get isCutShort(): boolean {
    return this.cutFor !== undefined && this.cutFor === patienceAsked();
  }

  private inTime(make: () => Solution): Solution | undefined {
    if (this.isCutShort) return undefined;
    const made = inTime<Solution | undefined>(make, undefined);
    if (made === undefined) this.cutFor = patienceAsked();
    // What is made of what there was no time for is not it either.
    return this.isCutShort ? undefined : made;
  }

  private get unsolved(): Solution {
    const { system } = this.made ?? this;
    if (this.open?.system !== system) this.open = unsolved(system);
    return this.open;
  }
}

/** Plans by structure, and cells by what they are made of. */
export class Plans {
  private readonly structures = new Structures(mostKept, weightOf);
  private cores = newCores();
  private joins = newJoins();
  /** How many cells were solved so far. */
  solved = 0;

  /** Lets go of all cells: those that are in use go on as they are. Plans stay. */
  forget(): void {
    this.cores = newCores();
    this.joins = newJoins();
  }

  /**
   * The system of a cell, or one made from it: what has been planned for one of its structure is not
   * planned again, whatever it is about.
   */
  solve(system: System, core: Core, beside?: Solution): Solution {
    this.solved++;
    const plainly = (mode: System, other: Solution | undefined): Solution =>
      this.solvePlainly(mode, this.structures.of(mode), other);
    return hasModes(system)
      ? solveModes(system, plainly, beside)
      : this.solvePlainly(
          system,
          system === core.system ? core.structure : this.structures.beside(core, system),
          beside,
        );
  }

  private solvePlainly(
    system: System,
    structure: Structure,
    beside: Solution | undefined,
  ): Solution {
    const { plan } = structure;
    const solution = plan === undefined ? solve(system, beside) : solveLike(system, plan, beside);
    structure.plan = planOf(solution);
    return solution;
  }

  /** The cell of some equations; its core is the same as that of a cell made of the same. */
  cell<K extends Key>(
    equations: Iterable<KeyedEquation<K>>,
    variableOf: (key: K) => Variable,
    /** Keys to take in although no equation may speak of them. */
    further: readonly K[] = [],
  ): Cell<K> {
    const sorted = [...equations].sort(byName);
    const met = new Set<K>(further);
    for (const { figures } of sorted) for (const figure of figures) met.add(figure);
    const keys = [...met];
    keys.sort((one, other) => byName(one, other) || (one.file < other.file ? -1 : 1));
    const places = new Map<K, number>();
    for (let place = 0; place < keys.length; place++) places.set(keys[place] as K, place);
    const local: Equation[] = [];
    const variables = keys.map(variableOf);
    for (const { name, form, figures, rank, assumption, slack, when } of sorted) {
      const own = figures.map((key) => places.get(key) ?? 0);
      local.push({ name, form, variables: own, rank, assumption, slack, when });
    }
    const system = { variables, equations: local };
    const structure = this.structures.inOrder(system);
    return new Cell(keys, places, sorted, this.coreOf(system, structure, keys));
  }

  /**
   * Some variables of several cells side by side, each with the steps that lead to it, and variables
   * that no equation speaks of: enough to judge a claim over them and to sweep back from it.
   */
  joined<K extends Key>(
    cells: readonly Cell<K>[],
    wanted: readonly K[],
    variableOf: (key: K) => Variable,
    as: ReadAs = "solution",
  ): Solved<K> {
    const known = wanted.map((key) => contentOf(key, variableOf(key)));
    const key = `${as} ${cells.map(({ core }) => core.serial).join(",")}|${known.join(" ")}`;
    const made = () => joined(cells, wanted, variableOf, as) as Solved<never>;
    for (const { core } of cells) if (core[as] === undefined || core.isCutShort) return made();
    return this.joins.get(key, made) as Solved<K>;
  }

  /** The same cell where some of what is given, or wanted, in it is so with other figures. */
  renewed<K extends Key>(cell: Cell<K>, variableOf: (key: K) => Variable): Cell<K> {
    const { keys, core } = cell;
    const variables = keys.map(variableOf);
    const system = { variables, equations: core.system.equations };
    return cell.with(this.coreOf(system, core.structure, keys, core.likely));
  }

  private coreOf(
    system: System,
    structure: Structure,
    keys: readonly Key[],
    beside?: Solution,
  ): Core {
    const made = (): Core => new Core(system, structure, this, beside);
    const { length } = system.equations;
    // A small one is solved again more quickly than it is found, a huge one would be kept alone.
    if (length < smallestKept || length > mostKept / 4) return made();
    // Put together at once: what is added up piece by piece is kept with all its pieces.
    const content = [`${structure.number}`];
    for (let place = 0; place < keys.length; place++)
      content.push(contentOf(keys[place] as Key, system.variables[place] as Variable));
    for (const { form, assumption, slack } of system.equations)
      content.push(
        `${assumption === true ? "a" : ""}${slack ?? ""}${this.structures.numberIn(form) ?? ""}`,
      );
    return this.cores.get(content.join(";"), made);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** Of plans, of cells kept by what they are made of, and of some put side by side: equations in each. */
const mostKept = 60_000;

const newCores = (): Kept<Core> => new Kept(mostKept, ({ system }) => weightOf(system));
const newJoins = (): Kept<Solved<never>> =>
  new Kept(mostKept, ({ solution }) => weightOf(solution.system));

/** What is small is not for nothing. */
function weightOf({ equations }: System): number {
  return equations.length + 10;
}

/** Cells of fewer equations are not kept by what they are made of. */
const smallestKept = 3;

function contentOf({ serial }: Key, variable: Variable): string {
  let said = contents.get(variable);
  if (said === undefined) {
    said = saidOf(variable);
    contents.set(variable, said);
  }
  return serial + said;
}

/** A figure stands in a cell and beside others under many checks, before and after many edits. */
const contents = new WeakMap<Variable, string>();

function saidOf({ given, wish, making, role, near, whole }: Variable): string {
  const made =
    making === undefined
      ? ""
      : `${making.step ?? ""}/${making.off}/${making.offShare}/${making.said}${making.turned ?? ""}`;
  const known = `${role ?? ""}${made}`;
  if (given === undefined) {
    return `${known}~${wish?.low ?? ""}~${wish?.high ?? ""}~${near ?? ""}${whole ?? ""}`;
  }
  const { value, low, high, rounding, distribution = "", together = "" } = given;
  return `${known}=${value},${low},${high},${rounding}${distribution}${together}`;
}
