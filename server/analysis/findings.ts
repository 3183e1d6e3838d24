/**
 * Findings about values, in the builder's words: contradictions, failures, checks, what is missing.
 *
 * Must not know: how anything was solved, how findings are shown.
 */
import type { Name } from "../../grammar/syntax";
import { type Anchor, textAt } from "../model/anchor";
import type { Finding, Severity } from "../model/finding";
import type { Ask, ModelClaim, ModelEquation, ModelVariable, Origin } from "../model/model";
import { anchorOfThing, placeToChange, type Thing } from "../model/thing";
import { chanceOf, valueOf } from "../solve";
import { type Conflict, type Failure, mayChange, type Verdict } from "../solve/system";
import type { CheckResult, Level, Levels, Need, Value } from "./analysis";
import { type Solved, siOf } from "./reasons";
import { andList, comparisonInWords, orList, type Writer } from "./wording";

export interface FindingContext {
  readonly solved: Solved;
  readonly writer: Writer;
  readonly asks: readonly Ask[];
  /** Where a place comes among all of the build, later places higher; the build's own file last. */
  orderOf(anchor: Anchor): readonly number[];
  /** The value that names lead to from inside a thing. */
  valueIn(thing: Thing, names: readonly Name[]): Value | undefined;
}

/** Givens that cannot all hold: which, by how much, and what each would have to be. */
export function conflictFinding(conflict: Conflict, context: FindingContext): Finding | undefined {
  const { solved, writer } = context;
  const { solution } = solved;
  const givens = conflict.givens.flatMap(({ variable, needed }) => {
    const found = solved.figureAt(variable);
    const value = solution.system.variables[variable]?.given?.value;
    return found === undefined ? [] : [{ variable: found, value, needed }];
  });
  const formulas = formulasIn(conflict, solved);
  const last = latest(
    givens.map(({ variable }) => variable),
    context,
  );
  const equation = solved.equationAt(conflict.equation);
  const anchor = last?.entry?.anchor ?? anchorOfEquation(equation?.origin, solved) ?? undefined;
  if (anchor === undefined) return undefined;
  const held = defaultsIn(conflict, solved);
  // In the unit of a figure that is written, where the gap measures the same as that figure.
  const alike = givens.find(({ variable }) => variable.measure.name === equation?.measure?.name);
  const missed = alike?.variable ?? (equation?.measure && { measure: equation.measure });
  const written = writer.alike([
    ...givens.map(({ variable, value }) => ({ as: variable, si: value })),
    ...held.map(({ variable }) => ({
      as: variable,
      si: siOf(solved, solved.placeOf(variable.id) ?? -1),
    })),
    ...(missed === undefined ? [] : [{ as: missed, si: Math.abs(conflict.gap) }]),
  ]);
  const list = andList([
    ...givens.map(({ variable }, index) => {
      const assumed = variable.figure === undefined ? " (assumed)" : "";
      return `${variable.name} ${written[index]}${assumed}`;
    }),
    ...formulas,
    ...held.map(
      ({ variable, constant }, index) =>
        `${variable.name} ${written[givens.length + index]} (${constant ? "a constant" : "assumed"})`,
    ),
  ]);
  const gap =
    equation === undefined
      ? undefined
      : (written[givens.length + held.length] ?? writer.fine(Math.abs(conflict.gap), undefined));
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
      mayChange(variable.variable.role) &&
      needed !== undefined &&
      Number.isFinite(needed),
  );
  const changes = mends.map(
    ({ variable, needed }) => `${variable.name} would have to be ${writer.like(variable, needed)}`,
  );
  changes.push(
    ...held.flatMap(({ variable: { name }, constant }) =>
      constant ? [] : [`ask for ${name}: write \`${name}: ?\``],
    ),
  );
  const read = givens.filter(({ variable }) => variable.variable.role === "measured");
  if (read.length > 0) {
    changes.push(`measure ${orList(read.map(({ variable }) => variable.name))} again`);
  }
  return {
    code: "conflict/givens",
    severity: "error",
    message:
      givens.length + formulas.length + held.length <= 1
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
      const place = variable.entry === undefined ? undefined : placeToChange(variable.entry);
      if (place === undefined || variable.part !== undefined) return [];
      const text = writer.like(variable, needed);
      return [{ title: `set ${variable.name} to ${text}`, edits: [{ anchor: place, text }] }];
    }),
  };
}

/** Figures that should have come out and did not. */
export function failureFinding(
  failure: Failure,
  { solved, writer, asks }: FindingContext,
): Finding | undefined {
  const variables = failure.variables.flatMap((each) => solved.figureAt(each) ?? []);
  const names = andList(variables.slice(0, 5).map((variable) => variable.name));
  const asked = asks.find((ask) =>
    failure.variables.some((each) => solved.idAt(each) === ask.figure),
  );
  const equations = failure.equations.flatMap((each) => solved.equationAt(each) ?? []);
  const anchor =
    asked?.entry.anchor ??
    variables
      .map((variable) => variable.entry?.anchor ?? openingOf(variable))
      .find((each) => each !== undefined) ??
    anchorOfEquation(equations[0]?.origin, solved);
  if (anchor === undefined) return undefined;
  const by = andList(
    equations
      .slice(0, 3)
      .map(
        (equation) =>
          `“${equation.origin.is === "relation" ? equation.origin.relation.title : nameOf(equation, solved)}”`,
      ),
  );
  const inputs = inputsOf(failure, solved, writer);
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
        message: `${names} cannot be worked out by ${by}: it would need a division by zero, a root of something negative, a place outside of a table or a figure too large to reckon with`,
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
    const open = verdict.open.flatMap((index) => context.solved.figureAt(index)?.name ?? []);
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
  const failing = fill(check.remarks.message) ?? `does not hold: ${check.title}`;
  if (verdict.nominal === "fails") {
    if (levels.nominal === "off") return undefined;
    const words = comparedInWords(claim, context);
    return {
      ...base,
      related: check.limit === undefined ? undefined : [check.limit],
      severity: gentler(own, levels.nominal),
      message: `${subject}${failing}${words === "" ? "" : ` (${words})`}`,
    };
  }
  // Where a side settles it without the other, there is no margin that tolerances could take.
  if (verdict.worst === "holds" || verdict.margin === undefined) return undefined;
  const words = comparedInWords(claim, context, verdict.spread);
  const described = words === "" ? "" : ` (${words})`;
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

/** What tolerances can take of a margin, and whether that is known: `by` where they end. */
type Reach =
  | { readonly is: "none" | "unlimited"; readonly figures: readonly [] }
  | { readonly is: "proved"; readonly figures: readonly [by: number] }
  | { readonly is: "bounded"; readonly figures: readonly [by: number, found: number] };

function reachOf(spread: Verdict["spread"]): Reach {
  if (spread === undefined) return { is: "none", figures: [] };
  const { below, worstBelow } = spread;
  if (below.known === "unlimited") return { is: "unlimited", figures: [] };
  // Within a hundredth the furthest found and the bound are one number to anyone.
  return worstBelow - below.found <= 0.01 * worstBelow || below.known === "found"
    ? { is: "proved", figures: [worstBelow] }
    : { is: "bounded", figures: [worstBelow, below.found] };
}

/** `, tolerances take up to 0.020 in` */
function reachInWords({ is }: Reach, [by, found]: readonly string[]): string {
  switch (is) {
    case "none":
      return "";
    case "unlimited":
      return ", with no limit to what tolerances can take";
    case "proved":
      return `, tolerances take up to ${by}`;
    case "bounded":
      return `, tolerances take no more than ${by}; the most found is ${found}`;
  }
}

/** `it fails at p.width 2.51 in and p.depth 1.2 in`: the fewest words that let it be seen. */
function witnessInWords(verdict: Verdict, { solved, writer }: FindingContext): string | undefined {
  if (verdict.worst !== "fails" || verdict.witness === undefined) return undefined;
  const figures = [...verdict.witness].flatMap(([index, si]) => {
    const as = solved.figureAt(index);
    return as === undefined ? [] : [{ as, si }];
  });
  const written = writer.alike(figures);
  const places = figures.map(({ as }, index) => `${as.name} ${written[index]}`);
  if (places.length === 0 || places.length > 4) return undefined;
  return `it fails at ${andList(places.sort())}`;
}

/** `; it holds in about 97 % of builds (96 to 98)` */
function chanceInWords(claim: ModelClaim, { solved }: FindingContext): string {
  const chance = chanceOf(solved.solution, solved.local(claim));
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
  openIn: (check: CheckResult) => readonly string[],
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
    const missing = new Set(those.flatMap((check) => openIn(check)));
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

/** What is counted comes in whole ones: a figure that comes out between two of them is no answer. */
export function notWholeFinding(
  { path, si, measure, standing, anchor }: Value,
  place: Anchor | undefined,
): Finding | undefined {
  const at = anchor ?? place;
  if (measure?.whole !== true || si === undefined || at === undefined) return undefined;
  if (standing !== "solved" && standing !== "assumed") return undefined;
  const nearest = Math.round(si);
  if (Math.abs(si - nearest) <= 1e-9 * Math.max(1, Math.abs(si))) return undefined;
  const [below, above] = [Math.floor(si), Math.ceil(si)];
  return {
    code: "solve/not-whole",
    severity: "error",
    message: `${path} comes out at ${Number(si.toPrecision(6))}, and it is counted in whole ones`,
    hint: `give ${below} or ${above}, and leave open what is to follow from it`,
    anchor: at,
  };
}

/** What came out of steps from a few places is an answer; that it is the only one nobody has shown. */
export function othersFinding({
  path,
  anchor,
  reason,
  othersNotExcluded,
}: Value): Finding | undefined {
  if (othersNotExcluded !== true || anchor === undefined) return undefined;
  const together = reason?.together.length ?? 0;
  return {
    code: "solve/others-not-excluded",
    severity: "note",
    message: `${path} is one answer that was found${together > 1 ? `, ${together} figures solved together` : ""}; others are not excluded`,
    hint: "look whether it can be meant; `near` behind the `?` says which answer is wanted, `? near 30 deg`",
    anchor,
  };
}

/** Amounts in two currencies cannot be added up: nobody says what one is worth in the other. */
export function currencyFinding(priced: readonly ModelVariable[]): Finding | undefined {
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

/** `rear.mount_width cannot be worked out yet`; what would settle it is told beside it. */
export function missingMessage(
  value: Value,
  needs: readonly (readonly Need[])[],
  /** Whether some relation speaks of it. */
  spokenOf: boolean,
): string {
  const name = `${value.path} cannot be worked out yet`;
  if (needs.length > 0) return name;
  const advice = value.field.needs === undefined ? "" : `; ${value.field.needs}`;
  return spokenOf
    ? `${name}: what leads to it is open as well, and no few figures more would settle it${advice}`
    : `${name}: nothing in the build leads to it${advice}`;
}

// ───────────────────────────── helpers ─────────────────────────────

/** `set the knee to {knee_start}`: names in braces stand for their values, as the thing sees them. */
function filled(
  text: string | undefined,
  { thing, check }: ModelClaim,
  { writer, valueIn }: FindingContext,
): string | undefined {
  if (text === undefined || thing === undefined || !text.includes("{")) return text;
  return text.replaceAll(/\{([a-z_][\w.]*)\}/gi, (whole, path: string) => {
    const names = path
      .split(".")
      .map((name) => ({ type: "name" as const, text: name, span: check.node.span }));
    const value = valueIn(thing, names);
    if (value === undefined) return whole;
    if (value.measure === undefined) return String(value.word ?? path);
    return value.si === undefined ? path : writer.fine(value.si, value.measure);
  });
}

/** `inner_gap is 5/16 in, at least 1/2 in is wanted: 3/16 in short` */
function comparedInWords(
  claim: ModelClaim,
  { solved, writer }: FindingContext,
  spread?: Verdict["spread"],
): string {
  const { compared } = claim;
  const { solution } = solved;
  const { variables } = solved.local(claim);
  if (compared === undefined) {
    return variables
      .slice(0, 4)
      .flatMap((index) => {
        const variable = solved.figureAt(index);
        return variable === undefined
          ? []
          : [
              `${claim.own ? variable.name : variable.field.name} is ${writer.fine(solution.values[index], variable.measure)}`,
            ];
      })
      .join(", ");
  }
  const left = valueOf(solution, { expression: compared.left, variables });
  const right = valueOf(solution, { expression: compared.right, variables });
  if (left === undefined || right === undefined) return "";
  const misses =
    !["==", "!="].includes(compared.relation) &&
    left < right === (compared.relation === ">=" || compared.relation === ">");
  const reach = reachOf(spread);
  const [is = "", other = "", ...further] = writer.together(
    [left, right, ...(misses ? [Math.abs(left - right)] : []), ...reach.figures],
    compared.measure,
    compared.dimension,
  );
  const name = textAt({ ...claim.check.anchor, span: compared.leftNode.span }).replaceAll(
    /\s+/g,
    " ",
  );
  const against = textAt({ ...claim.check.anchor, span: compared.rightNode.span }).replaceAll(
    /\s+/g,
    " ",
  );
  const literal = ["number", "quantity"].includes(compared.rightNode.type);
  const wanted = literal ? other : `${against} = ${other}`;
  const short = misses ? `: ${further.shift()} ${left < right ? "short" : "over"}` : "";
  return `${name} is ${is}, ${comparisonInWords(compared.relation)} ${wanted} is wanted${short}${reachInWords(reach, further)}`;
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
function formulasIn({ equation, equations }: Conflict, solved: Solved): string[] {
  return [...new Set([...equations, equation])].flatMap((index) => {
    const origin = solved.equationAt(index)?.origin;
    if (origin?.is !== "formula") return [];
    return [
      `${solved.thing(origin.thing)?.path}.${origin.entry.field.text}: ${textAt(origin.entry.anchor).replaceAll(/\s+/g, " ")}`,
    ];
  });
}

/** Defaults that hold as firmly as what is written and take part: constants among them. */
function defaultsIn(
  { equations }: Conflict,
  solved: Solved,
): { readonly variable: ModelVariable; readonly constant: boolean }[] {
  return equations.flatMap((each) => {
    const { origin, equation } = solved.equationAt(each) ?? {};
    const figure = origin?.is === "default" ? equation?.figures.at(-1) : undefined;
    const variable = figure && solved.figureAt(solved.placeOf(figure) ?? -1);
    return variable === undefined
      ? []
      : [{ variable, constant: variable.variable.role === "constant" }];
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

function anchorOfEquation(origin: Origin | undefined, solved: Solved): Anchor | undefined {
  if (origin === undefined) return undefined;
  if (origin.is === "formula") return origin.entry.anchor;
  const anchor = anchorOfThing(solved.thing(origin.thing));
  return anchor ?? (origin.is === "relation" ? origin.relation.anchor : undefined);
}

/** What an equation that is no relation is called in a sentence. */
function nameOf({ equation }: ModelEquation, solved: Solved): string {
  const figure = equation.figures.at(-1);
  const variable = figure && solved.figureAt(solved.placeOf(figure) ?? -1);
  return `${variable?.name ?? ""} = …`;
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
  const range = variable?.variable.range;
  if (variables.length !== 1 || variable === undefined || range === undefined) return "";
  const [low, high] = range;
  return ` between ${writer.value(low, variable.measure)} and ${writer.value(high, variable.measure)}`;
}

function inputsOf(failure: Failure, solved: Solved, writer: Writer): string {
  const { system, values } = solved.solution;
  const inputs = new Set<number>();
  for (const index of failure.equations) {
    for (const variable of system.equations[index]?.variables ?? []) {
      if (!failure.variables.includes(variable) && Number.isFinite(values[variable]))
        inputs.add(variable);
    }
  }
  return [...inputs]
    .slice(0, 5)
    .flatMap((index) => {
      const variable = solved.figureAt(index);
      return variable === undefined
        ? []
        : [`${variable.name} ${writer.fine(values[index], variable.measure)}`];
    })
    .join(", ");
}
