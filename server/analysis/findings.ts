/**
 * What there is to find about values: contradictions, failures, figures that come out wrong.
 *
 * Must not know: how anything was solved, how findings are worded.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type { Name } from "../../grammar/syntax";
import type { ContradictedFigure } from "../findings/conflicts";
import type { Failed } from "../findings/failures";
import type { Fact, Found } from "../findings/worded";
import type { Ask, ModelEquation, ModelVariable, Origin } from "../model/model";
import { anchorOfThing, type Thing } from "../model/thing";
import { makingOff, type Repair, toStep } from "../solve";
import { type Conflict, type Failure, mayChange, type Variable } from "../solve/system";
import type { Value } from "./analysis";
import { type SolvedCell, shown, siOf } from "./reasons";

export interface FindingContext {
  readonly solved: SolvedCell;
  readonly asks: readonly Ask[];
  /** Where a place comes among all of the build, later places higher; the build's own file last. */
  orderOf(anchor: Anchor): readonly number[];
  /** The value that names lead to from inside a thing. */
  valueIn(thing: Thing, names: readonly Name[]): Value | undefined;
}

/** Givens that cannot all hold: which, by how much, and what each would have to be. */
export function conflictFinding(
  conflict: Conflict,
  repairs: readonly Repair[],
  context: FindingContext,
): Found | undefined {
  const { solved } = context;
  const { variables } = solved.solution.system;
  const givens = conflict.givens.flatMap(({ variable, needed }) => {
    const found = solved.figureAt(variable);
    return found === undefined ? [] : [{ found, value: variables[variable]?.given?.value, needed }];
  });
  const last = latest(
    givens.map(({ found }) => found),
    context,
  );
  const equation = solved.equationAt(conflict.equation);
  const anchor = last?.entry?.anchor ?? anchorOfEquation(equation?.origin, solved);
  if (anchor === undefined) return undefined;
  return {
    is: "conflict/givens",
    givens: givens.map(({ found, value, needed }): ContradictedFigure => {
      const { figure, entry, part, variable } = found;
      const mends = figure !== undefined && part === undefined && mayChange(variable.role);
      return {
        ...shown(found, value),
        assumed: figure === undefined,
        needed:
          mends && needed !== undefined && Number.isFinite(needed)
            ? onStep(needed, variable)
            : undefined,
        measured: variable.role === "measured",
        bought: variable.role === "bought",
        elsewhere: found === last ? undefined : entry?.anchor,
      };
    }),
    formulas: formulasIn(conflict, solved),
    title: equation?.origin.is === "relation" ? equation.origin.relation.title : undefined,
    relations: conflict.equations.flatMap((each) => {
      const origin = solved.equationAt(each)?.origin;
      return origin?.is === "relation" ? [origin.relation.title] : [];
    }),
    gap: equation === undefined ? undefined : { si: conflict.gap, measure: equation.measure },
    held: defaultsIn(conflict, solved).map((variable) => ({
      ...shown(variable, siOf(solved, solved.placeOf(variable.id) ?? -1)),
      constant: variable.variable.role === "constant",
    })),
    clashes: solved.solution.conflicts.length,
    repairs: repairs.flatMap(({ changes }) => {
      const figures = changes.flatMap(({ variable, value }) => {
        const found = solved.figureAt(variable);
        return found === undefined ? [] : [shown(found, value)];
      });
      return figures.length < changes.length ? [] : [figures];
    }),
    anchor,
  };
}

/** What is made is made on its step, where that is as near as it can be made at all. */
export function onStep(needed: number, { role, making }: Variable): number {
  if (role !== "made" || making === undefined) return needed;
  const stepped = toStep(needed, making.step);
  return Math.abs(stepped - needed) <= makingOff(making, needed) ? stepped : needed;
}

/** Figures that should have come out and did not. */
export function failureFinding(failure: Failure, context: FindingContext): Found | undefined {
  const { solved, asks } = context;
  const variables = failure.variables.flatMap((each) => solved.figureAt(each) ?? []);
  const asked = asks.find((ask) =>
    failure.variables.some((each) => solved.idAt(each) === ask.figure),
  );
  const equations = failure.equations.flatMap((each) => solved.equationAt(each) ?? []);
  const inputs = writtenBehind(failure, solved).flatMap((each) => solved.figureAt(each) ?? []);
  const last = latest(inputs, context);
  // Where somebody asks for it or wrote it; else where the last of what it follows from is written.
  const anchor =
    asked?.entry.anchor ??
    variables.map(({ entry }) => entry?.anchor).find((each) => each !== undefined) ??
    last?.entry?.anchor ??
    variables.map(openingOf).find((each) => each !== undefined) ??
    anchorOfEquation(equations[0]?.origin, solved);
  if (anchor === undefined) return undefined;
  const failed: Failed = {
    figures: variables.map((variable) => ({ ...shown(variable), range: variable.variable.range })),
    by: equations.map((equation) =>
      equation.origin.is === "relation" ? equation.origin.relation.title : nameOf(equation, solved),
    ),
    inputs: inputsOf(failure, solved),
    elsewhere: inputs
      .slice(0, 6)
      .flatMap(({ name, entry }) =>
        entry === undefined || entry.anchor === anchor
          ? []
          : [{ path: name, anchor: entry.anchor }],
      ),
  };
  switch (failure.why) {
    case "several-roots": {
      const { roots = [], answers = [], complete, inWholes } = failure;
      const halfTurn = variables.some(({ variable: { angle, range } }) => angle && !range);
      const at = variables.findIndex(({ id }) => id === asked?.figure);
      const askedAt = at < 0 ? undefined : at;
      const found = { askedAt, roots, answers, complete, halfTurn, inWholes };
      return { is: "solve/several-answers", ...failed, ...found, anchor };
    }
    case "no-root": {
      const { outside, inWholes, nearest } = failure;
      return { is: "solve/no-answer", ...failed, outside, inWholes, nearest, anchor };
    }
    case "not-defined":
      return { is: "solve/not-defined", ...failed, anchor };
    case "several-modes":
    case "no-mode": {
      const is = failure.why === "several-modes" ? "solve/several-cases" : "solve/no-case";
      return { is, ...failed, cases: casesOf(equations), anchor };
    }
    case "no-convergence":
      return { is: "solve/no-answer together", ...failed, anchor };
  }
}

/** What is counted comes in whole ones: a figure that comes out between two of them is no answer. */
export function notWholeFinding(
  { path, si, measure, standing, anchor }: Value,
  place: Anchor | undefined,
): Found | undefined {
  const at = anchor ?? place;
  if (measure?.whole !== true || si === undefined || at === undefined) return undefined;
  if (standing !== "solved" && standing !== "assumed") return undefined;
  const nearest = Math.round(si);
  if (Math.abs(si - nearest) <= 1e-9 * Math.max(1, Math.abs(si))) return undefined;
  return { is: "solve/not-whole", path, si, anchor: at };
}

/** What came out of steps from a few places is an answer; that it is the only one nobody has shown. */
export function othersFinding(value: Value): Found | undefined {
  if (value.othersNotExcluded !== true) return undefined;
  const { path, anchor, reason } = value;
  if (anchor === undefined) return undefined;
  const together = reason?.together.length ?? 0;
  return { is: "solve/others-not-excluded", path, together, anchor };
}

/** Amounts in two currencies cannot be added up: nobody says what one is worth in the other. */
export function currencyFinding(priced: Iterable<ModelVariable>): Found | undefined {
  let first: Fact<"unit/two-currencies">["first"] | undefined;
  for (const { name, figure, entry } of priced) {
    const currency = figure?.currency;
    if (currency === undefined || entry === undefined || currency === first?.currency) continue;
    const { anchor } = entry;
    const found = { path: name, currency, anchor };
    if (first !== undefined) return { is: "unit/two-currencies", first, other: found, anchor };
    first = found;
  }
  return undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Formulas of the builder's own that take part: `p.half: width / 4`. */
function formulasIn({ equation, equations }: Conflict, solved: SolvedCell): string[] {
  return [...new Set([...equations, equation])].flatMap((index) => {
    const origin = solved.equationAt(index)?.origin;
    if (origin?.is !== "formula") return [];
    return [
      `${solved.thing(origin.thing)?.path}.${origin.entry.field.text}: ${textAt(origin.entry.anchor).replaceAll(/\s+/g, " ")}`,
    ];
  });
}

/** Defaults that hold as firmly as what is written and take part: constants among them. */
function defaultsIn({ equations }: Conflict, solved: SolvedCell): ModelVariable[] {
  return equations.flatMap((each) => {
    const { origin, equation } = solved.equationAt(each) ?? {};
    const figure = origin?.is === "default" ? equation?.figures.at(-1) : undefined;
    return (figure && solved.figureAt(solved.placeOf(figure) ?? -1)) ?? [];
  });
}

/** The one written last: the line most likely just typed. */
export function latest(
  variables: readonly ModelVariable[],
  { orderOf }: Pick<FindingContext, "orderOf">,
): ModelVariable | undefined {
  const written = variables.filter(
    (variable) => variable.entry !== undefined && variable.part === undefined,
  );
  const pool =
    written.length > 0 ? written : variables.filter((variable) => variable.entry !== undefined);
  // An option or record goes before the spec.
  const placeOf = ({ entry }: ModelVariable): readonly number[] =>
    entry === undefined ? [] : [entry.layer === "spec" ? 0 : 1, ...orderOf(entry.anchor)];
  return [...pool].sort((one, other) => {
    const place = placeOf(one);
    const otherPlace = placeOf(other);
    const differing = place.findIndex((each, index) => each !== otherPlace[index]);
    return (otherPlace[differing] ?? 0) - (place[differing] ?? 0);
  })[0];
}

function openingOf(variable: ModelVariable): Anchor | undefined {
  for (
    let thing: ModelVariable["thing"] | undefined = variable.thing;
    thing !== undefined;
    thing = thing.owner
  ) {
    if (thing.anchor !== undefined) return thing.anchor;
  }
  return undefined;
}

function anchorOfEquation(origin: Origin | undefined, solved: SolvedCell): Anchor | undefined {
  if (origin === undefined) return undefined;
  if (origin.is === "formula") return origin.entry.anchor;
  const anchor = anchorOfThing(solved.thing(origin.thing));
  return anchor ?? (origin.is === "relation" ? origin.relation.anchor : undefined);
}

/** What an equation that is no relation is called in a sentence. */
function nameOf({ equation }: ModelEquation, solved: SolvedCell): string {
  const figure = equation.figures.at(-1);
  const variable = figure && solved.figureAt(solved.placeOf(figure) ?? -1);
  return `${variable?.name ?? ""} = …`;
}

/** The relations that hold in one case each, and when. */
export function casesOf(equations: readonly ModelEquation[]) {
  return equations.flatMap(({ origin }) => {
    if (origin.is !== "relation" || origin.relation.node.when === undefined) return [];
    const { title, anchor, node } = origin.relation;
    const when = textAt({ ...anchor, span: node.when?.span ?? anchor.span });
    return [{ title, when: when.replaceAll(/\s+/g, " ") }];
  });
}

/** What somebody wrote that a failure is worked out from, the nearest to it first. */
function writtenBehind({ equations, variables }: Failure, solved: SolvedCell): number[] {
  const { system, determinations } = solved.solution;
  const open = new Set(variables);
  const seen = new Set<number>(equations);
  const written = new Set<number>();
  for (const equation of seen) {
    for (const variable of system.equations[equation]?.variables ?? []) {
      if (open.has(variable)) continue;
      const found = determinations[variable];
      if (found?.how === "given") written.add(variable);
      if (found?.how === "solved" || found?.how === "assumed")
        for (const each of [found.equation, ...found.block]) seen.add(each);
    }
  }
  return [...written];
}

function inputsOf(failure: Failure, solved: SolvedCell) {
  return writtenBehind(failure, solved)
    .slice(0, 6)
    .flatMap((index) => {
      const variable = solved.figureAt(index);
      return variable === undefined ? [] : [shown(variable, solved.solution.values[index])];
    });
}
