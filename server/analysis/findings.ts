/**
 * Findings about values, in the builder's words: contradictions, failures, checks, what is missing.
 *
 * Must not know: how anything was solved, how findings are shown.
 */
import type { Item } from "../../grammar/syntax";
import { type Anchor, textAt } from "../model/anchor";
import type { Finding, Severity } from "../model/finding";
import type { Model, ModelClaim, ModelVariable } from "../model/model";
import { nominalAnchor } from "../model/thing";
import { chanceOf, valueOf } from "../solve";
import {
  type Conflict,
  type Failure,
  mayChange,
  type Solution,
  type Verdict,
} from "../solve/system";
import type { CheckResult, Level, Levels, Need, Value } from "./analysis";
import { andList, comparisonInWords, orList, type Writer } from "./wording";

export interface FindingContext {
  readonly model: Model;
  readonly solution: Solution;
  readonly writer: Writer;
  /** Items in the order they are read, for finding the line that was written last. */
  readonly items: readonly Item[];
  /** The build's own file. */
  readonly rootUri: string | undefined;
}

/** Givens that cannot all hold: which, by how much, and what each would have to be. */
export function conflictFinding(conflict: Conflict, context: FindingContext): Finding | undefined {
  const { model, solution, writer } = context;
  const givens = conflict.givens.flatMap(({ variable, needed }) => {
    const found = model.variables[variable];
    const value = solution.system.variables[variable]?.given?.value;
    return found === undefined ? [] : [{ variable: found, value, needed }];
  });
  const formulas = formulasIn(conflict, model);
  const last = latest(
    givens.map(({ variable }) => variable),
    context,
  );
  const equation = model.equations[conflict.equation];
  const anchor = last?.entry?.anchor ?? anchorOfEquation(equation?.origin) ?? undefined;
  if (anchor === undefined) return undefined;
  const list = andList([
    ...givens.map(({ variable, value }) => {
      const assumed = variable.figure === undefined ? " (assumed)" : "";
      return `${variable.name} ${writer.like(variable, value)}${assumed}`;
    }),
    ...formulas,
  ]);
  // In the unit of a figure that is written, where the gap measures the same as that figure.
  const alike = givens.find(({ variable }) => variable.measure.name === equation?.measure?.name);
  const gap =
    equation === undefined
      ? undefined
      : alike === undefined
        ? writer.fine(Math.abs(conflict.gap), equation.measure)
        : writer.like(alike.variable, Math.abs(conflict.gap));
  const title =
    equation === undefined
      ? ""
      : equation.origin.is === "relation"
        ? ` by “${equation.origin.relation.title}”`
        : "";
  const mends = givens.filter(
    ({ variable, needed }) =>
      variable.figure !== undefined &&
      variable.part === undefined &&
      mayChange(variable.role) &&
      needed !== undefined &&
      Number.isFinite(needed),
  );
  const changes = mends.map(
    ({ variable, needed }) => `${variable.name} would have to be ${writer.like(variable, needed)}`,
  );
  const freed = conflict.equations.flatMap((each) => {
    const origin = model.equations[each]?.origin;
    return origin?.is === "default" ? [`${origin.thing.path}.${origin.field.name}`] : [];
  });
  changes.push(...freed.map((path) => `ask for ${path}: write \`${path}: ?\``));
  const read = givens.filter(({ variable }) => variable.role === "measured");
  if (read.length > 0) {
    changes.push(`measure ${orList(read.map(({ variable }) => variable.name))} again`);
  }
  return {
    code: "conflict/givens",
    severity: "error",
    message:
      givens.length + formulas.length <= 1
        ? `this cannot hold${title}: ${list}${gap === undefined ? "" : `, it misses by ${gap}`}`
        : `these cannot all hold${title}: ${list}${gap === undefined ? "" : `; they miss by ${gap}`}`,
    hint:
      changes.length === 0
        ? "leave one of them out, and it is solved from the others"
        : changes.length === 1
          ? read.length > 0
            ? `${changes[0]}`
            : `to agree, ${changes[0]}`
          : `change one: ${orList(changes)}`,
    anchor,
    related: givens.flatMap(({ variable }) =>
      variable.entry === undefined || variable === last
        ? []
        : [{ anchor: variable.entry.anchor, message: `${variable.name} is given here` }],
    ),
    fixes: mends.flatMap(({ variable, needed }) => {
      const place = variable.entry === undefined ? undefined : nominalAnchor(variable.entry);
      if (place === undefined || variable.part !== undefined) return [];
      const text = writer.like(variable, needed);
      return [{ title: `set ${variable.name} to ${text}`, edits: [{ anchor: place, text }] }];
    }),
  };
}

/** Figures that should have come out and did not. */
export function failureFinding(
  failure: Failure,
  index: number,
  { model, solution, writer }: FindingContext,
): Finding | undefined {
  const variables = failure.variables.flatMap((each) => model.variables[each] ?? []);
  const names = andList(variables.slice(0, 5).map((variable) => variable.name));
  const asked = model.asks.find((ask) => failure.variables.includes(ask.variable));
  const equations = failure.equations.flatMap((each) => model.equations[each] ?? []);
  const anchor =
    asked?.entry.anchor ??
    variables
      .map((variable) => variable.entry?.anchor ?? openingOf(variable))
      .find((each) => each !== undefined) ??
    anchorOfEquation(equations[0]?.origin);
  if (anchor === undefined) return undefined;
  const by = andList(
    equations
      .slice(0, 3)
      .map(
        (equation) =>
          `“${equation.origin.is === "relation" ? equation.origin.relation.title : equation.name}”`,
      ),
  );
  const inputs = inputsOf(failure, model, solution, writer);
  const common = { severity: "error" as const, anchor };
  switch (failure.why) {
    case "several-roots": {
      const variable = variables[0];
      const alone = (failure.roots ?? []).map((root) => writer.fine(root, variable?.measure));
      const together = (failure.answers ?? []).map((answer) =>
        variables
          .slice(0, 4)
          .map(({ name, measure }, at) => `${name} ${writer.fine(answer[at], measure)}`)
          .join(" with "),
      );
      const roots = (together.length > 0 ? together : alone).slice(0, 6);
      const all =
        failure.complete === undefined || together.length > roots.length
          ? ""
          : failure.complete
            ? `; ${together.length === 2 ? "these two" : `these ${together.length}`} are all there are`
            : "; these were found, others are not excluded";
      return {
        ...common,
        // What nobody asked for may stay open; it is no mistake of the build.
        severity: asked === undefined ? "note" : "error",
        code: "solve/several-answers",
        message: `${names} ${variables.length > 1 ? "have" : "has"} more than one answer: ${orList(roots)}${all}`,
        hint: "give one more figure, so that only one of them is left",
      };
    }
    case "no-root":
      return {
        ...common,
        code: "solve/no-answer",
        message: `${names} ${variables.length > 1 ? "have no possible values" : "has no possible value"}${rangeInWords(variables, writer)} by ${by}${outsideInWords(failure, variables, writer)}`,
        hint:
          inputs === ""
            ? "check the figures it is worked out from"
            : `check the figures it is worked out from: ${inputs}`,
      };
    case "not-defined":
      return {
        ...common,
        code: "solve/not-defined",
        message: `${names} cannot be worked out by ${by}: it would need a division by zero, a root of something negative or a place outside of a table`,
        hint: inputs === "" ? "check the figures it is worked out from" : `check ${inputs}`,
      };
    case "several-modes":
    case "no-mode": {
      const conditions = andList(
        equations.flatMap(({ origin }) =>
          origin.is === "relation" && origin.relation.node.when !== undefined
            ? [
                `“${origin.relation.title}” when ${textAt({ ...origin.relation.anchor, span: origin.relation.node.when.span }).replaceAll(/\s+/g, " ")}`,
              ]
            : [],
        ),
      );
      const several = failure.why === "several-modes";
      return {
        ...common,
        code: several ? "solve/several-cases" : "solve/no-case",
        message: several
          ? `${names} ${variables.length > 1 ? "come" : "comes"} out differently in more than one case that holds: ${conditions}`
          : `none of these cases holds: with each of them, what it says of ${names} is not so: ${conditions}`,
        hint: several
          ? "give one more figure, so that only one of them is left, or let the conditions leave each other out"
          : "let the conditions take in every case, up to where the next one begins",
      };
    }
    case "no-convergence":
      return {
        ...common,
        code: "solve/no-answer",
        message: `${names} could not be found together by ${by}`,
        hint: "give one of them, or check the figures they are worked out from",
      };
  }
  return { ...common, code: `solve/${index}`, message: names };
}

/** A check that does not hold, at the level the settings ask for. */
export function checkFinding(
  check: CheckResult,
  claim: ModelClaim,
  levels: Levels,
  context: FindingContext,
): Finding | undefined {
  const { verdict } = check;
  const own: Severity =
    check.remarks.severity === "warning" || check.remarks.severity === "note"
      ? check.remarks.severity
      : "error";
  const subject = check.thing === undefined ? "" : `${check.thing.path}: `;
  const fill = (text: string | undefined): string | undefined => filled(text, claim, context);
  const base = {
    code: check.code,
    anchor: check.place,
    caution: fill(check.remarks.caution),
    hint: fill(check.remarks.advise),
  };
  if (verdict.nominal === "unknown") {
    if (!check.own) return undefined;
    const open = verdict.open.flatMap((index) => context.model.variables[index]?.name ?? []);
    return {
      ...base,
      code: "check/cannot-judge",
      severity: "note",
      message: `cannot judge yet: ${check.title}`,
      hint:
        open.length === 0
          ? "something it names is not there yet"
          : `${andList(open.slice(0, 4))} ${open.length > 1 ? "are" : "is"} missing`,
      caution: undefined,
    };
  }
  const words = comparedInWords(claim, context);
  const failing = fill(check.remarks.message) ?? `does not hold: ${check.title}`;
  if (verdict.nominal === "fails") {
    if (levels.nominal === "off") return undefined;
    return {
      ...base,
      severity: gentler(own, levels.nominal),
      message: `${subject}${failing}${words === "" ? "" : ` (${words})`}`,
    };
  }
  // Where a side settles it without the other, there is no margin that tolerances could take.
  if (verdict.worst === "holds" || verdict.margin === undefined) return undefined;
  const described = words === "" ? "" : ` (${words}${reachInWords(verdict, claim, context)})`;
  const witness = witnessInWords(verdict, context);
  const hint = [base.hint, witness].filter((each) => each !== undefined).join("; ");
  const further = { ...base, ...(hint === "" ? {} : { hint }) };
  // What is likely to fail fails in the worst case too.
  const likely = harsher(levels.rss, levels.worst);
  if (verdict.rss === "fails" && likely !== "off") {
    return {
      ...further,
      severity: gentler(own, likely),
      message: `${subject}holds as drawn, but is likely not to with these tolerances: ${check.title}${described}${chanceInWords(claim, context)}`,
    };
  }
  if (levels.worst === "off") return undefined;
  return {
    ...further,
    severity: gentler(own, levels.worst),
    message:
      verdict.worst === "fails"
        ? `${subject}holds as drawn, but not in the worst case: ${check.title}${described}`
        : `${subject}holds as drawn; whether it holds in the worst case was not settled: ${check.title}${described}`,
  };
}

/** `, tolerances take up to 0.020 in`: of one comparison, whose margin has a unit of its own. */
function reachInWords(verdict: Verdict, claim: ModelClaim, { writer }: FindingContext): string {
  const { compared } = claim;
  const { spread } = verdict;
  if (compared === undefined || spread === undefined) return "";
  if (spread.below.known === "unlimited") return ", with no limit to what tolerances can take";
  const by = writer.ofDimension(spread.worstBelow, compared.dimension, compared.measure);
  const gap = spread.worstBelow - spread.below.found;
  // Within a hundredth the furthest found and the bound are one number to anyone.
  if (gap <= 0.01 * spread.worstBelow || spread.below.known === "found") {
    return `, tolerances take up to ${by}`;
  }
  const found = writer.ofDimension(spread.below.found, compared.dimension, compared.measure);
  return `, tolerances take no more than ${by}; the most found is ${found}`;
}

/** `it fails at p.width 2.51 in and p.depth 1.2 in`: the fewest words that let it be seen. */
function witnessInWords(verdict: Verdict, { model, writer }: FindingContext): string | undefined {
  if (verdict.worst !== "fails" || verdict.witness === undefined) return undefined;
  const places = [...verdict.witness].flatMap(([index, value]) => {
    const variable = model.variables[index];
    return variable === undefined ? [] : [`${variable.name} ${writer.like(variable, value)}`];
  });
  if (places.length === 0 || places.length > 4) return undefined;
  return `it fails at ${andList(places.sort())}`;
}

/** `; it holds in about 97 % of builds (96 to 98)` */
function chanceInWords(claim: ModelClaim, { solution }: FindingContext): string {
  const chance = chanceOf(solution, claim);
  if (chance === undefined) return "";
  if (chance.share === 0) return "; it holds in under 0.1 % of builds";
  const percent = (share: number): string => {
    const whole = 100 * share;
    return String(Number(whole > 99 || whole < 1 ? whole.toFixed(1) : whole.toFixed(0)));
  };
  const [low, high] = [percent(chance.low), percent(chance.high)];
  const range = low === high ? "" : ` (${low} to ${high})`;
  return `; it holds in about ${percent(chance.share)} % of builds${range}`;
}

/** One finding for all checks of a thing that must be judged and cannot be yet. */
export function unjudgedFindings(
  checks: readonly CheckResult[],
  context: FindingContext,
): Finding[] {
  const open = checks.filter(
    ({ own, remarks, verdict }) =>
      !own && remarks.needs !== undefined && verdict.nominal === "unknown",
  );
  const things = new Set(open.map(({ thing }) => thing));
  return [...things].flatMap((thing) => {
    const those = open.filter((check) => check.thing === thing);
    const [first] = those;
    if (first === undefined) return [];
    const missing = new Set(
      those.flatMap(({ verdict }) =>
        verdict.open.flatMap((index) => context.model.variables[index]?.name ?? []),
      ),
    );
    const needs = new Set(those.map(({ remarks }) => remarks.needs));
    const named = those.slice(0, 3).map(({ title }) => title);
    const more = those.length - named.length;
    const titles = more > 0 ? `${named.join("; ")}; and ${more} more` : named.join("; ");
    return {
      code: "check/cannot-judge",
      // A question nobody answered, or a figure that is not there yet.
      severity: those.some(({ verdict }) => verdict.open.length === 0) ? "warning" : "note",
      anchor: first.place,
      message: `${thing === undefined ? "" : `${thing.path}: `}not judged yet: ${titles}`,
      hint: [
        ...needs,
        ...(missing.size === 0 ? [] : [`missing: ${andList([...missing].slice(0, 4))}`]),
      ].join("; "),
    };
  });
}

/** Amounts in two currencies cannot be added up: nobody says what one is worth in the other. */
export function currencyFinding(variables: readonly ModelVariable[]): Finding | undefined {
  const priced = variables.filter(({ figure }) => figure?.currency !== undefined);
  const [first] = priced;
  const other = priced.find(({ figure }) => figure?.currency !== first?.figure?.currency);
  if (first?.entry === undefined || other?.entry === undefined) return undefined;
  return {
    code: "unit/two-currencies",
    severity: "error",
    message: `${other.name} is in ${other.figure?.currency}, ${first.name} in ${first.figure?.currency}: a build is reckoned in one currency`,
    hint: "write all amounts in the same currency, at the rate you pay",
    anchor: other.entry.anchor,
    related: [{ anchor: first.entry.anchor, message: `${first.name} is given here` }],
  };
}

/** `rear.mount_width is missing: give …, or … and …` */
export function missingMessage(value: Value, needs: readonly (readonly Need[])[]): string {
  const name = `${value.path} cannot be worked out yet`;
  if (needs.length === 0) {
    const advice = value.field.needs === undefined ? "" : `; ${value.field.needs}`;
    return `${name}: nothing in the build leads to it${advice}`;
  }
  const sets = needs
    .slice(0, 4)
    .map((set) =>
      set
        .map((need) => (need.advice === undefined ? need.path : `${need.path} (${need.advice})`))
        .join(" and "),
    );
  return `${name}: give ${sets.join(", or ")}`;
}

// ───────────────────────────── helpers ─────────────────────────────

/** `set the knee to {knee_start}`: names in braces stand for their values, as the thing sees them. */
function filled(
  text: string | undefined,
  { thing, check }: ModelClaim,
  { model, solution, writer }: FindingContext,
): string | undefined {
  if (text === undefined || thing === undefined || !text.includes("{")) return text;
  return text.replaceAll(/\{([a-z_][\w.]*)\}/gi, (whole, path: string) => {
    const names = path
      .split(".")
      .map((name) => ({ type: "name" as const, text: name, span: check.node.span }));
    const target = model.resolve(thing, thing.scope, names);
    if (target.is !== "field") return whole;
    const owned = `${target.thing.path}.${target.field.name}`;
    const index = model.variableAt(
      target.part === undefined ? owned : `${owned}.${target.part.name}`,
    );
    const variable = index === undefined ? undefined : model.variables[index];
    if (index === undefined || variable === undefined) {
      return String(model.words.get(owned)?.value ?? path);
    }
    const si = solution.values[index];
    return si === undefined || !Number.isFinite(si) ? path : writer.fine(si, variable.measure);
  });
}

/** `inner_gap is 5/16 in, at least 1/2 in is wanted: 3/16 in short` */
function comparedInWords(claim: ModelClaim, { solution, writer, model }: FindingContext): string {
  const { compared } = claim;
  if (compared === undefined) {
    return claim.variables
      .slice(0, 4)
      .flatMap((index) => {
        const variable = model.variables[index];
        return variable === undefined
          ? []
          : [
              `${claim.own ? variable.name : variable.field.name} is ${writer.fine(solution.values[index], variable.measure)}`,
            ];
      })
      .join(", ");
  }
  const left = valueOf(solution, { expression: compared.left, variables: claim.variables });
  const right = valueOf(solution, { expression: compared.right, variables: claim.variables });
  if (left === undefined || right === undefined) return "";
  const write = (si: number): string =>
    writer.ofDimension(si, compared.dimension, compared.measure);
  const name = textAt({ ...claim.check.anchor, span: compared.leftNode.span }).replaceAll(
    /\s+/g,
    " ",
  );
  const other = textAt({ ...claim.check.anchor, span: compared.rightNode.span }).replaceAll(
    /\s+/g,
    " ",
  );
  const literal = ["number", "quantity"].includes(compared.rightNode.type);
  const wanted = literal ? write(right) : `${other} = ${write(right)}`;
  const short = ["==", "!="].includes(compared.relation)
    ? ""
    : left < right === (compared.relation === ">=" || compared.relation === ">")
      ? `: ${write(Math.abs(left - right))} ${left < right ? "short" : "over"}`
      : "";
  return `${name} is ${write(left)}, ${comparisonInWords(compared.relation)} ${wanted} is wanted${short}`;
}

function harsher(one: Level, other: Level): Level {
  const order: readonly Level[] = ["off", "note", "warning", "error"];
  return order.indexOf(one) > order.indexOf(other) ? one : other;
}

function gentler(one: Severity, other: Level): Severity {
  const order: readonly Level[] = ["off", "note", "warning", "error"];
  return order.indexOf(one) < order.indexOf(other) || other === "off" ? one : other;
}

/** Formulas of the builder's own that take part: `p.half: width / 4`. */
function formulasIn({ equation, equations }: Conflict, model: Model): string[] {
  return [...new Set([...equations, equation])].flatMap((index) => {
    const origin = model.equations[index]?.origin;
    if (origin?.is !== "formula") return [];
    return [
      `${origin.thing.path}.${origin.entry.field.text}: ${textAt(origin.entry.anchor).replaceAll(/\s+/g, " ")}`,
    ];
  });
}

/** The one written last: the line most likely just typed. */
function latest(
  variables: readonly ModelVariable[],
  { items, rootUri }: Pick<FindingContext, "items" | "rootUri">,
): ModelVariable | undefined {
  const written = variables.filter(
    (variable) => variable.entry !== undefined && variable.part === undefined,
  );
  const pool =
    written.length > 0 ? written : variables.filter((variable) => variable.entry !== undefined);
  // An option or record goes before the spec; the items of the build's own file come first.
  const placeOf = ({ entry }: ModelVariable): readonly number[] =>
    entry === undefined
      ? []
      : [
          entry.layer === "spec" ? 0 : 1,
          entry.anchor.uri === rootUri ? 1 : 0,
          items.indexOf(entry.anchor.item),
          entry.anchor.span.start,
        ];
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

function anchorOfEquation(
  origin: Model["equations"][number]["origin"] | undefined,
): Anchor | undefined {
  if (origin === undefined) return undefined;
  if (origin.is === "formula") return origin.entry.anchor;
  for (let thing = origin.thing; thing !== undefined; thing = thing.owner)
    if (thing.anchor !== undefined) return thing.anchor;
  return origin.is === "relation" ? origin.relation.anchor : undefined;
}

/** `: it would be 12 in` where the only answer lies outside of what is possible. */
function outsideInWords(
  { outside }: Failure,
  variables: readonly ModelVariable[],
  writer: Writer,
): string {
  const [variable] = variables;
  if (outside === undefined || variable === undefined || variables.length > 1) return "";
  return `: it would be ${writer.fine(outside, variable.measure)}`;
}

function rangeInWords(variables: readonly ModelVariable[], writer: Writer): string {
  const [variable] = variables;
  if (variables.length !== 1 || variable?.range === undefined) return "";
  const [low, high] = variable.range;
  return ` between ${writer.value(low, variable.measure)} and ${writer.value(high, variable.measure)}`;
}

function inputsOf(failure: Failure, model: Model, solution: Solution, writer: Writer): string {
  const inputs = new Set<number>();
  for (const index of failure.equations) {
    for (const variable of model.equations[index]?.variables ?? []) {
      if (!failure.variables.includes(variable) && Number.isFinite(solution.values[variable]))
        inputs.add(variable);
    }
  }
  return [...inputs]
    .slice(0, 5)
    .flatMap((index) => {
      const variable = model.variables[index];
      return variable === undefined
        ? []
        : [`${variable.name} ${writer.fine(solution.values[index], variable.measure)}`];
    })
    .join(", ");
}
