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
import type { Condition, Expression } from "./expression";
import { joined } from "./joined";
import type { Key, KeyedEquation, ReadAs, Solved } from "./keyed";
import { hasModes, solveModes } from "./modes";
import { isGiven } from "./network";
import { outcomeOf } from "./outcome";
import { isPutIn } from "./put-in";
import { solve, solveLike, unsolved } from "./solve";
import type { Equation, EquationForm, Solution, SolvePlan, System, Variable } from "./system";

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
    readonly pattern: Pattern,
    private readonly plans: Plans,
  ) {}

  /** Which of its equations hold is part of the answer. */
  get hasModes(): boolean {
    this.modes ??= hasModes(this.system);
    return this.modes;
  }

  /** As drawn: everything written holds as far as it can. */
  get solution(): Solution {
    this.made ??= this.inTime(() =>
      draw(this.system, (system) =>
        this.plans.solve(system, system === this.system ? this.pattern : undefined),
      ),
    );
    return this.made ?? this.unsolved;
  }

  private cameOut: Solution | undefined;

  /** As it comes out: what is made on its step, wishes let go where something made answers them. */
  get outcome(): Solution {
    this.cameOut ??= this.inTime(() =>
      outcomeOf(this.solution, [], (system) => this.plans.solve(system)),
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

/** What systems of one structure have in common: all they are but for their numbers. */
interface Pattern {
  /** Of this process alone; for keys of what is kept. */
  readonly number: number;
  readonly weight: number;
  /** Once one of them was solved. */
  plan: SolvePlan | undefined;
}

/** Plans by structure, and cells by what they are made of. */
export class Plans {
  private readonly patterns = new Kept<Pattern>(mostKept, ({ weight }) => weight);
  private lastPattern = 0;
  private cores = newCores();
  private joins = newJoins();
  private readonly forms = new WeakMap<EquationForm, number | string>();
  private lastForm = 0;
  /** How many cells were solved so far. */
  solved = 0;

  /** Lets go of all cells: those that are in use go on as they are. Plans stay. */
  forget(): void {
    this.cores = newCores();
    this.joins = newJoins();
  }

  /** Whatever it is about: what has been planned for one of its structure is not planned again. */
  solve(system: System, pattern?: Pattern): Solution {
    this.solved++;
    return hasModes(system)
      ? solveModes(system, (mode) => this.solvePlainly(mode, this.patternOf(mode)))
      : this.solvePlainly(system, pattern ?? this.patternOf(system));
  }

  private solvePlainly(system: System, pattern: Pattern): Solution {
    const solution = pattern.plan === undefined ? solve(system) : solveLike(system, pattern.plan);
    // In the plan of what numbers were put into these are known.
    if (!isPutIn(solution)) pattern.plan = solution.plan;
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
    const pattern = this.pattern(system, this.structureOf(system));
    return new Cell(keys, places, sorted, this.coreOf(system, pattern, keys));
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
    return cell.with(this.coreOf(system, core.pattern, keys));
  }

  private coreOf(system: System, pattern: Pattern, keys: readonly Key[]): Core {
    const made = (): Core => new Core(system, pattern, this);
    // A small one is solved again more quickly than it is found.
    if (system.equations.length < smallestKept) return made();
    // Put together at once: what is added up piece by piece is kept with all its pieces.
    const content = [`${pattern.number}`];
    for (let place = 0; place < keys.length; place++)
      content.push(contentOf(keys[place] as Key, system.variables[place] as Variable));
    for (const { form, assumption, slack } of system.equations)
      content.push(`${assumption === true ? "a" : ""}${slack ?? ""}${this.numberIn(form) ?? ""}`);
    return this.cores.get(content.join(";"), made);
  }

  /** What a system is but for its numbers and names, where it stands in the order of its names. */
  private structureOf({ variables, equations }: System): string {
    const structure: string[] = [];
    for (const { form, rank, variables: own, when } of equations)
      structure.push(`${this.formOf(form)}${rank}:${own.join(",")}${conditionKey(when)};`);
    structure.push("|");
    for (const variable of variables) structure.push(isGiven(variable) ? "1" : "0");
    return structure.join("");
  }

  /** Of one that stands in any order: names decide between equals. */
  private patternOf(system: System): Pattern {
    const { variables, equations } = system;
    const structure = this.structureOf(system);
    return this.pattern(system, `${structure}|${orderOf(variables)}|${orderOf(equations)}`);
  }

  private pattern(system: System, structure: string): Pattern {
    return this.patterns.get(structure, () => ({
      number: this.lastPattern++,
      weight: weightOf(system),
      plan: undefined,
    }));
  }

  /** Figures added up that come to a number are of one form, whatever the number. */
  private formOf(form: EquationForm): number | string {
    let known = this.forms.get(form);
    if (known === undefined) {
      const sum = form.right.op === "number" ? sumIn(form.left) : undefined;
      known = sum ?? this.lastForm++;
      this.forms.set(form, known);
    }
    return known;
  }

  private numberIn(form: EquationForm): number | undefined {
    const { right } = form;
    return right.op === "number" && typeof this.formOf(form) === "string" ? right.value : undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const conditions = new WeakMap<Condition, string>();

/** Equal for conditions that say the same; "" where there is none. */
export function conditionKey(condition: Condition | undefined): string {
  if (condition === undefined) return "";
  let key = conditions.get(condition);
  if (key === undefined) {
    key = JSON.stringify(condition);
    conditions.set(condition, key);
  }
  return key;
}

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

/** Figures added and subtracted, each once: nothing of how it is solved hangs on what it comes to. */
function sumIn(expression: Expression): string | undefined {
  switch (expression.op) {
    case "slot":
      return `s${expression.index}`;
    case "add":
    case "subtract": {
      const left = sumIn(expression.left);
      const right = expression.right.op === "slot" ? sumIn(expression.right) : undefined;
      if (left === undefined || right === undefined || left.includes(right)) return undefined;
      return `${left}${expression.op === "add" ? "+" : "-"}${right}`;
    }
    default:
      return undefined;
  }
}

/** The places in the order of their names; "" where they stand so. */
function orderOf(named: readonly { readonly name: string }[]): string {
  let sorted = true;
  for (let at = 1; at < named.length && sorted; at++)
    sorted = (named[at - 1] as { name: string }).name < (named[at] as { name: string }).name;
  if (sorted) return "";
  const order = Array.from(named, (_, at) => at);
  order.sort((one, other) => byName(named[one] as Named, named[other] as Named));
  return order.join(",");
}

interface Named {
  readonly name: string;
}

function byName(one: { readonly name: string }, other: { readonly name: string }): number {
  return one.name < other.name ? -1 : one.name > other.name ? 1 : 0;
}
