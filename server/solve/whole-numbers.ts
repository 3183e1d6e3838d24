/**
 * What is counted comes in whole ones: where equations alone leave a count open, the whole numbers
 * that satisfy them may be few, or one. They are searched for by halving ranges that the equations
 * have cut down, and each that is found is put into the system.
 *
 *     ring / pinion = 4.10, pinion 8..15, ring 30..50   →   41 and 10
 *
 * Must not know: how a system is solved; wording.
 */
import { Contraction } from "./contraction";
import { executionOf, highOf, lowOf, nearestOf } from "./execution";
import { connectedEquations } from "./network";
import { markedLike, putIn, taken } from "./put-in";
import type { Failure, Solution, System } from "./system";

/** Larger parts of a build are left open. */
const MOST_EQUATIONS = 200;
/** Ranges looked at, equations worked through for it, and answers put into the system. */
const MOST_RANGES = 4_000;
const MOST_WORK = 60_000;
const MOST_ANSWERS = 24;

/** `again` solves a system; whole numbers in it are found by this. */
export function withWholeNumbers(
  solution: Solution,
  again: (system: System) => Solution,
): Solution {
  let current = solution;
  const looked = new Set<number>();
  for (;;) {
    const sought = current.system.variables.findIndex(
      ({ whole }, variable) =>
        whole === "sought" && isOpen(current, variable) && !looked.has(variable),
    );
    if (sought < 0) return current;
    looked.add(sought);
    const part = partOf(current, sought);
    for (const variable of part?.counted ?? []) looked.add(variable);
    if (part !== undefined) current = searched(current, part, again);
  }
}

// ───────────────────────────── the part that is open ─────────────────────────────

interface OpenPart {
  readonly equations: readonly number[];
  /** Those in which something is open. */
  readonly open: readonly number[];
  /** Those in which nothing else is open than what is counted. */
  readonly among: readonly number[];
  /** Open figures that are counted. */
  readonly counted: readonly number[];
}

function isOpen({ determinations }: Solution, variable: number): boolean {
  return determinations[variable]!.how === "open";
}

/** What hangs together with a figure; undefined where that is nothing, or too much. */
function partOf(solution: Solution, variable: number): OpenPart | undefined {
  const { network, steps } = executionOf(solution);
  const { equations } = solution.system;
  const { touchStart, touching } = network;
  const used = new Set(steps.flatMap((step) => step.equations));
  const around = connectedEquations(
    network,
    touching.subarray(touchStart[variable]!, touchStart[variable + 1]!),
  );
  if (around.length > MOST_EQUATIONS) return undefined;
  const own = around.filter((each) => equations[each]!.rank === "relation" || used.has(each));
  // Of all that hangs together only what leads from one open figure to the next is solved by search.
  const reached = new Set([variable]);
  const open = new Set<number>();
  for (const each of reached) {
    for (const equation of own) {
      const { variables } = equations[equation]!;
      if (open.has(equation) || !variables.includes(each)) continue;
      open.add(equation);
      for (const other of variables) if (isOpen(solution, other)) reached.add(other);
    }
  }
  if (open.size === 0) return undefined;
  const { variables } = solution.system;
  const counted = [...reached].filter((each) => variables[each]!.whole !== undefined);
  const all = [...open];
  const among = all.filter((each) =>
    equations[each]!.variables.every(
      (v) => !isOpen(solution, v) || variables[v]!.whole !== undefined,
    ),
  );
  return {
    equations: own,
    open: all,
    among,
    counted: counted.sort((a, b) => a - b),
  };
}

// ───────────────────────────── the search ─────────────────────────────

function searched(
  solution: Solution,
  part: OpenPart,
  again: (system: System) => Solution,
): Solution {
  const { answers, complete } = new Search(solution, part, again).run();
  const lists = answers.map(({ numbers }) => numbers);
  const meant =
    lists.length === 1 && complete ? lists[0] : nearestOf(solution.system, part.counted, lists);
  const only = answers.find(({ numbers }) => numbers === meant);
  const equations = part.among.length > 0 ? part.among : part.open;
  if (only !== undefined) return taken(solution, only.solved, part.counted, equations);
  // Where any count will do as long as another figure goes along, that figure is what is missing.
  if (answers.length > 0 && part.among.length === 0) return solution;
  if (!complete && (answers.length === 0 || answers.length >= MOST_ANSWERS)) return solution;
  const failure: Failure = {
    why: answers.length === 0 ? "no-root" : "several-roots",
    equations,
    variables: part.counted,
    inWholes: true,
    ...(answers.length === 0 ? {} : { answers: lists, complete }),
  };
  const determinations = solution.determinations.slice();
  for (const variable of part.counted) {
    determinations[variable] = { how: "failed", failure: solution.failures.length };
  }
  const failures = [...solution.failures, failure];
  return markedLike({ ...solution, determinations, failures }, solution);
}

interface Answer {
  /** Of the part's counted figures, in their order. */
  readonly numbers: readonly number[];
  readonly solved: Solution;
}

class Search {
  private readonly ranges: Contraction;
  private readonly answers: Answer[] = [];
  private spent = 0;
  private complete = true;

  constructor(
    private readonly solution: Solution,
    private readonly part: OpenPart,
    private readonly again: (system: System) => Solution,
  ) {
    const { variables } = solution.system;
    this.ranges = new Contraction(executionOf(solution).network, part.equations, (variable) => {
      const about = variables[variable]!;
      const { given } = about;
      if (given === undefined) return [lowOf(about), highOf(about)];
      return [
        Math.min(given.low, given.value - given.rounding),
        Math.max(given.high, given.value + given.rounding),
      ];
    });
  }

  run(): { readonly answers: readonly Answer[]; readonly complete: boolean } {
    if (this.ranges.contract()) this.look();
    return { answers: this.answers, complete: this.complete };
  }

  private look(): void {
    const { low, high } = this.ranges;
    const variable = this.part.counted
      .filter((each) => high[each]! > low[each]!)
      .reduce<number | undefined>(
        (best, each) =>
          best === undefined || high[each]! - low[each]! < high[best]! - low[best]! ? each : best,
        undefined,
      );
    if (variable === undefined) {
      this.put();
      return;
    }
    const done = this.spent++ >= MOST_RANGES || this.ranges.spent >= MOST_WORK;
    if (done || this.answers.length >= MOST_ANSWERS) {
      this.complete = false;
      return;
    }
    const [from, to] = [low[variable]!, high[variable]!];
    if (!Number.isFinite(to - from)) {
      this.complete = false;
      return;
    }
    const middle = Math.floor((from + to) / 2);
    const before = this.ranges.saved();
    for (const [lower, upper] of [
      [from, middle],
      [middle + 1, to],
    ] as const) {
      if (this.ranges.cut(variable, lower, upper) && this.ranges.contract([variable])) this.look();
      this.ranges.restore(before);
    }
  }

  /** Puts the whole numbers that are left into the system. */
  private put(): void {
    const { solution, part } = this;
    const numbers = part.counted.map((variable) => this.ranges.low[variable]!);
    const put = new Map(part.counted.map((variable, at) => [variable, numbers[at]!]));
    const solved = putIn(solution, put, this.again);
    if (solved !== undefined) this.answers.push({ numbers, solved });
  }
}
